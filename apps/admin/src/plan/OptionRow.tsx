import { useTranslate } from 'react-admin';
import type { LensOption } from '@lensferry/contracts';
import { useFormat } from '../shared/format/use-format';

interface Props {
  option: LensOption;
  mine: boolean;
  compact: boolean;
  onChoose: ((option: LensOption) => void) | undefined;
}

export function OptionRow({ option, mine, compact, onChoose }: Props) {
  const t = useTranslate();
  const format = useFormat();
  const { p10, p90 } = option.sphericalEquivalentD;
  const days = t('plan.working_days', { smart_count: option.quotedWorkingDays });
  return (
    <tr aria-selected={onChoose ? mine : undefined} className={mine ? 'table__strong' : undefined}>
      <th scope="row">
        {onChoose ? (
          <button
            type="button"
            className="sizes__pick mono"
            aria-pressed={mine}
            onClick={() => onChoose(option)}
          >
            {format.lens(option)}
          </button>
        ) : (
          <span className="mono">{format.lens(option)}</span>
        )}
        {mine && !onChoose && <span className="small muted"> {t('draw.chosen')}</span>}
        {option.turnDeg !== 0 && (
          <p className="muted small">{t('plan.turn', { turn: format.turn(option.turnDeg) })}</p>
        )}
      </th>
      <td data-label={t('plan.would_leave')}>
        <span className="mono">{format.lens(option.predicted)}</span>
        <p className="muted small nowrap">{t('plan.se_range', { range: format.diopterRange(p10, p90) })}</p>
      </td>
      <td data-label={t('plan.within_half')}>{format.percent(option.withinHalfD)}</td>
      <td data-label={t('plan.maker')}>
        {option.makerName}
        <p className="muted small">
          {option.designName}
          {compact && `, ${days}`}
        </p>
      </td>
      {!compact && (
        <td data-label={t('plan.takes')}>
          {days}
          <p className="muted small">
            {t(option.madeToOrder ? 'plan.made_to_order' : 'plan.from_stock')} ·{' '}
            {format.money(option.price, option.currency)}
          </p>
        </td>
      )}
    </tr>
  );
}
