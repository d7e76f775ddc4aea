import { useTranslate } from 'react-admin';
import type { CompanionJudgement, WayCost } from '@lensferry/calculation';
import { useFormat } from '../shared/format/use-format';

/** Two ways as bars: from what it costs if the size fits to what it costs if it is too large, the mean marked. */
export function CostBars({ judged, currency }: { judged: CompanionJudgement; currency: string }) {
  const t = useTranslate();
  const format = useFormat();
  const ways = [
    ['alone', judged.alone],
    ['together', judged.together],
  ] as const;
  const most = Math.max(...ways.map(([, { ifFits, ifTooLarge }]) => Math.max(ifFits, ifTooLarge)), 1);
  const at = (amount: number): number => (amount / most) * 100;
  const money = (amount: number): string => format.money(amount.toFixed(2), currency);
  const spread = ({ ifFits, ifTooLarge }: WayCost) => ({
    left: `${at(Math.min(ifFits, ifTooLarge))}%`,
    width: `${Math.abs(at(ifTooLarge) - at(ifFits))}%`,
  });
  return (
    <table className="costs">
      <caption className="unseen">{t('companion.bars')}</caption>
      <thead className="unseen">
        <tr>
          <th>{t('companion.way')}</th>
          <th>{t('companion.spread')}</th>
          <th>{t('companion.expected')}</th>
        </tr>
      </thead>
      <tbody>
        {ways.map(([name, way]) => (
          <tr key={name}>
            <th scope="row">{t(`companion.${name}`)}</th>
            <td>
              <div className="costs__track" aria-hidden="true">
                <span className="costs__spread" style={spread(way)} />
                <span className="costs__mean" style={{ left: `${at(way.expected)}%` }} />
              </div>
              <p className="small muted">
                {t('companion.from_to', { fits: money(way.ifFits), large: money(way.ifTooLarge) })}
              </p>
            </td>
            <td className="mono nowrap">{t('companion.on_average', { amount: money(way.expected) })}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
