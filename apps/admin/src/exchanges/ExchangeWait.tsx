import { useTranslate } from 'react-admin';
import type { CaseDetail } from '@lensferry/contracts';
import { OffersTable } from '../plan/OffersTable';
import { CrossingLine } from '../shared/drawing/CrossingLine';
import { horizonDays, toneOfChance } from '../shared/drawing/scales';
import { useFormat, useToday } from '../shared/format/use-format';
import { Pill } from '../shared/parts/Pill';

/**
 * How soon the other lens can be here, for an eye that can't wait: makers side by side, the quickest first, until one
 * is chosen; then its order on its way.
 */
export function ExchangeWait({ of }: { of: CaseDetail }) {
  const t = useTranslate();
  const format = useFormat();
  const today = useToday(of.clinic.timeZone);
  const order = of.orders.filter(({ round }) => round === of.round).at(-1);
  if (order?.forecast && order.arrivedAt === null) {
    const { forecast, needBy, promisedOn } = order;
    return (
      <>
        <CrossingLine order={order} days={horizonDays([{ ...forecast, needBy, promisedOn }], today)} />
        {forecast.inTime !== null && (
          <p>
            <Pill tone={toneOfChance(forecast.inTime)}>
              {t('order.in_time', { chance: format.percent(forecast.inTime) })}
            </Pill>
          </p>
        )}
      </>
    );
  }
  if (of.offers === null) return null;
  const quickest = [...of.offers].sort((a, b) => a.dates.p50.localeCompare(b.dates.p50));
  return (
    <section className="form">
      <h3>{t('exchange.how_soon')}</h3>
      <p className="muted small">{t('exchange.how_soon_note')}</p>
      <OffersTable offers={quickest} unable={of.unable ?? []} zone={of.clinic.timeZone} />
    </section>
  );
}
