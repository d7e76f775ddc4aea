import { useTranslate } from 'react-admin';
import { limits, type Limit } from '@lensferry/domain';
import type { LimitNow } from '@lensferry/contracts';
import { Moment } from '../shared/parts/When';
import { LimitScale } from './LimitScale';
import { useTellLimit } from './tell-limit';

/** One limit: where it stands between what is possible, what is usual, and who set it and why. */
export function LimitRow({ limit, onSet }: { limit: LimitNow; onSet: (() => void) | null }) {
  const t = useTranslate();
  const tell = useTellLimit();
  const { key, value, changed } = limit;
  const { usual } = limits[key] as Limit;
  const name = t(`limit.name.${key}`);
  return (
    <li className="limits__row">
      <div>
        <h3>{name}</h3>
        <p className="muted small">{t(`limit.effect.${key}`)}</p>
      </div>
      <div>
        <p>
          <strong>{tell(key, value)}</strong>{' '}
          <span className="muted">
            {value === usual ? t('limit.usual') : t('limit.usual_is', { value: tell(key, usual) })}
          </span>
        </p>
        <LimitScale limit={limit} />
        {changed && (
          <p className="small">
            {t('limit.changed', { by: changed.by, before: tell(key, changed.before) })}{' '}
            <Moment at={changed.at} />: {changed.why}
          </p>
        )}
      </div>
      {onSet && (
        <button
          type="button"
          className="button no-print"
          onClick={onSet}
          aria-label={t('limit.set_of', { name })}
        >
          {t('limit.set')}
        </button>
      )}
    </li>
  );
}
