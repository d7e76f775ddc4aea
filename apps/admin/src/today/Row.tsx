import type { ReactNode } from 'react';
import { useTranslate } from 'react-admin';

interface Props {
  name: ReactNode;
  /** Under the name, small. */
  detail?: ReactNode;
  children?: ReactNode;
  /** Where the step that moves it is taken; none when there is nothing to do. */
  act?: { to: string; label: string } | null;
  filled?: boolean;
}

/** A row of today: what, how it stands, and the one step that moves it. */
export function Row({ name, detail, children, act, filled = false }: Props) {
  const t = useTranslate();
  return (
    <li className="row">
      <div className="row__name">
        {name}
        {detail && <p className="muted small">{detail}</p>}
      </div>
      <div className="row__middle">{children}</div>
      <div className="row__act">
        {act ? (
          <a href={act.to} className={filled ? 'button button--filled' : 'button'}>
            {act.label}
          </a>
        ) : (
          <span className="muted">{t('today.nothing_to_do')}</span>
        )}
      </div>
    </li>
  );
}
