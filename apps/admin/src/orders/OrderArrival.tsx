import { useTranslate } from 'react-admin';
import type { OrderDetail } from '@lensferry/contracts';
import { CrossingLine } from '../shared/drawing/CrossingLine';
import { horizonDays, toneOfChance } from '../shared/drawing/scales';
import { useFormat, useToday } from '../shared/format/use-format';
import { Section } from '../shared/parts/Page';
import { Pill } from '../shared/parts/Pill';
import { When } from '../shared/parts/When';

/** When the lens will be here: its crossing to the theatre date, the chance, and the earliest date that is safe. */
export function OrderArrival({ order }: { order: OrderDetail }) {
  const t = useTranslate();
  const format = useFormat();
  const today = useToday(order.clinic.timeZone);
  const { forecast, needBy, promisedOn } = order;
  if (forecast === null || order.arrivedAt !== null) return null;
  return (
    <Section
      title={t('order.arrival')}
      note={t(forecast.basedOn === 0 ? 'order.based_on_quote' : 'order.based_on', {
        smart_count: forecast.basedOn,
      })}
    >
      <div className="card card--padded">
        <CrossingLine order={order} days={horizonDays([{ ...forecast, needBy, promisedOn }], today)} />
        {forecast.earliestTheatreOn && (
          <p className="muted">
            {t('offer.earliest')}: <When date={forecast.earliestTheatreOn} zone={order.clinic.timeZone} />
          </p>
        )}
        {forecast.inTime !== null && (
          <Pill tone={toneOfChance(forecast.inTime)}>
            {t('order.in_time', { chance: format.percent(forecast.inTime) })}
          </Pill>
        )}
      </div>
    </Section>
  );
}
