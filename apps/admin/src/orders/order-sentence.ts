import { useTranslate } from 'react-admin';
import type { OrderSummary } from '@lensferry/contracts';
import { useFormat, useNow, useToday } from '../shared/format/use-format';

/** How an order stands, in a sentence: its state and since when, its promise, whether it is late, and whether its maker was asked. */
export function useOrderSentence(order: OrderSummary): string {
  const t = useTranslate();
  const format = useFormat();
  const now = useNow();
  const zone = order.clinic.timeZone;
  const today = useToday(zone);
  const asked = useAskedSince(order);
  const since = format.date.ago(order.stateSince, now, zone);
  const parts = [t('order.stands', { state: t(`order.state.${order.state}`), since })];
  const arrived = order.arrivedAt !== null;
  if (!arrived && order.expectedOn)
    parts.push(t('order.expected_for', { date: format.date.dayAndDistance(order.expectedOn, today) }));
  else if (!arrived && order.promisedOn)
    parts.push(t('order.promised_for', { date: format.date.dayAndDistance(order.promisedOn, today) }));
  if (order.late && !arrived) parts.push(t(order.promisedOn ? 'order.past_promise' : 'order.past_quote'));
  if (asked) parts.push(asked);
  return parts.join('; ');
}

/** Since when its maker has been asked and has not answered; null where it is not asked. */
export function useAskedSince({ inquiry, clinic }: OrderSummary): string | null {
  const t = useTranslate();
  const format = useFormat();
  const now = useNow();
  if (inquiry === null) return null;
  const since = format.date.ago(inquiry.at, now, clinic.timeZone);
  return t(inquiry.told === false ? 'asking.failed_since' : 'asking.asked_since', { since });
}
