import { useTranslate } from 'react-admin';
import type { OrderSummary } from '@lensferry/contracts';
import { useFormat, useNow, useToday } from '../shared/format/use-format';

/** How an order stands, in a sentence: its state and since when, its promise, and whether it is late. */
export function useOrderSentence(order: OrderSummary): string {
  const t = useTranslate();
  const format = useFormat();
  const now = useNow();
  const zone = order.clinic.timeZone;
  const today = useToday(zone);
  const since = format.date.ago(order.stateSince, now, zone);
  const parts = [t('order.stands', { state: t(`order.state.${order.state}`), since })];
  const arrived = order.arrivedAt !== null;
  if (!arrived && order.expectedOn)
    parts.push(t('order.expected_for', { date: format.date.dayAndDistance(order.expectedOn, today) }));
  else if (!arrived && order.promisedOn)
    parts.push(t('order.promised_for', { date: format.date.dayAndDistance(order.promisedOn, today) }));
  if (order.late && !arrived) parts.push(t(order.promisedOn ? 'order.past_promise' : 'order.past_quote'));
  return parts.join('; ');
}
