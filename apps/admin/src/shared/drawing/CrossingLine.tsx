import { useTranslate } from 'react-admin';
import type { OrderSummary } from '@lensferry/contracts';
import { useFormat, useToday } from '../format/use-format';
import { crossingOf, toneOfChance } from './scales';
import './drawing.css';

/** An open order as a line from now to its theatre date, the hatched bar of its arrival on it. */
export function CrossingLine({ order, days }: { order: OrderSummary; days: number }) {
  const t = useTranslate();
  const format = useFormat();
  const today = useToday(order.clinic.timeZone);
  if (order.forecast === null) return <p className="muted small">{t('order.no_forecast')}</p>;
  const { p10, p50, p90, inTime } = order.forecast;
  const at = crossingOf({ p10, p50, p90, needBy: order.needBy, promisedOn: order.promisedOn }, today, days);
  const tone = inTime === null ? 'plain' : toneOfChance(inTime);
  const theatre = order.needBy && t('order.theatre', { date: format.date.day(order.needBy, today) });
  const label = [
    t('order.arrives_between', {
      from: format.date.day(p10, today),
      to: format.date.day(p90, today),
      middle: format.date.day(p50, today),
    }),
    theatre,
    order.promisedOn && t('order.promised_for', { date: format.date.day(order.promisedOn, today) }),
  ];
  return (
    <div className={`crossing crossing--${tone}`} role="img" aria-label={label.filter(Boolean).join('. ')}>
      <span className="crossing__now">{t('draw.now')}</span>
      <div className="crossing__line">
        <span
          className="doubt__bar"
          style={{ left: `${at.low}%`, width: `${Math.max(1.5, at.high - at.low)}%` }}
        />
        <span className="doubt__dot" style={{ left: `${at.middle}%` }} />
        {at.promised !== null && (
          <span
            className="crossing__promise"
            style={{ left: `${at.promised}%` }}
            title={t('order.promised_for', { date: format.date.day(order.promisedOn ?? '', today) })}
          />
        )}
        {at.needBy !== null && <span className="crossing__need" style={{ left: `${at.needBy}%` }} />}
        {at.needBy !== null && (
          <span className="crossing__theatre" style={{ left: `${Math.min(88, Math.max(12, at.needBy))}%` }}>
            {theatre}
          </span>
        )}
      </div>
    </div>
  );
}
