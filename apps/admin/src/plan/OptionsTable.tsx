import { useTranslate } from 'react-admin';
import type { LensOption } from '@lensferry/contracts';
import { useFormat } from '../shared/format/use-format';

export interface ChosenLens {
  designVersionId: string;
  sphereD: number;
  cylinderD: number;
  axisDeg: number | null;
}

interface Props {
  options: readonly LensOption[];
  chosen: ChosenLens | null;
  onChoose?: (option: LensOption) => void;
}

export function sameLens(option: ChosenLens, chosen: ChosenLens | null): boolean {
  return (
    chosen !== null &&
    option.designVersionId === chosen.designVersionId &&
    option.sphereD === chosen.sphereD &&
    option.cylinderD === chosen.cylinderD &&
    option.axisDeg === chosen.axisDeg
  );
}

/** The lenses that can be made, each with what it would leave: the middle and where 8 in 10 fall. */
export function OptionsTable({ options, chosen, onChoose }: Props) {
  const t = useTranslate();
  const format = useFormat();
  return (
    <div className="table-wrap">
      <table className="table table--stack">
        <thead>
          <tr>
            <th>{t('plan.lens')}</th>
            <th>{t('plan.would_leave')}</th>
            <th>{t('plan.within_half')}</th>
            <th>{t('plan.maker')}</th>
            <th>{t('plan.takes')}</th>
          </tr>
        </thead>
        <tbody>
          {options.map((option) => {
            const mine = sameLens(option, chosen);
            return (
              <tr
                key={`${option.designVersionId}${option.sphereD}${option.cylinderD}${option.axisDeg}`}
                aria-selected={onChoose ? mine : undefined}
                className={mine ? 'table__strong' : undefined}
              >
                <th scope="row" className="mono nowrap">
                  {onChoose ? (
                    <button
                      type="button"
                      className="sizes__pick"
                      aria-pressed={mine}
                      onClick={() => onChoose(option)}
                    >
                      {format.lens(option)}
                    </button>
                  ) : (
                    format.lens(option)
                  )}
                  {option.turnDeg !== 0 && (
                    <span className="muted small">
                      {' '}
                      {t('plan.turn', { turn: format.turn(option.turnDeg) })}
                    </span>
                  )}
                </th>
                <td data-label={t('plan.would_leave')}>
                  <span className="mono nowrap">{format.lens(option.predicted)}</span>
                  <br />
                  <span className="muted small nowrap">
                    {t('plan.se_range', {
                      range: format.diopterRange(
                        option.sphericalEquivalentD.p10,
                        option.sphericalEquivalentD.p90,
                      ),
                    })}
                  </span>
                </td>
                <td data-label={t('plan.within_half')}>{format.percent(option.withinHalfD)}</td>
                <td data-label={t('plan.maker')}>
                  {option.makerName}
                  <br />
                  <span className="muted small">{option.designName}</span>
                </td>
                <td data-label={t('plan.takes')}>
                  {t('plan.working_days', { smart_count: option.quotedWorkingDays })}
                  <br />
                  <span className="muted small">
                    {t(option.madeToOrder ? 'plan.made_to_order' : 'plan.from_stock')} ·{' '}
                    {format.money(option.price, option.currency)}
                  </span>
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}
