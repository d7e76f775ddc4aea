import { useMemo } from 'react';
import { useTranslate } from 'react-admin';
import type { OrderSummary } from '@lensferry/contracts';
import { now } from '../providers/clock';
import { todayIn, useFormat, useMinute, type Format } from '../shared/format/use-format';

/** How orders are told in sentences. */
export interface OrderTeller {
  /** How an order stands: its state and since when, its promise, whether it is late, and whether its maker was asked. */
  sentence(order: OrderSummary): string;
  /** Since when its maker has been asked and has not answered; null where it is not asked. */
  askedSince(order: OrderSummary): string | null;
}

/** One teller for a whole list: the same one until a minute is over, so that rows that did not change stay as they are. */
export function useOrderTeller(): OrderTeller {
  const t = useTranslate();
  const format = useFormat();
  const minute = useMinute();
  return useMemo(() => tellerOf(t, format), [t, format, minute]);
}

function tellerOf(t: ReturnType<typeof useTranslate>, format: Format): OrderTeller {
  const ago = (instant: string, zone: string) => format.date.ago(instant, now(), zone);
  const askedSince: OrderTeller['askedSince'] = ({ inquiry, clinic }) => {
    if (inquiry === null) return null;
    const since = ago(inquiry.at, clinic.timeZone);
    return t(inquiry.told === false ? 'asking.failed_since' : 'asking.asked_since', { since });
  };
  return {
    askedSince,
    sentence(order) {
      const zone = order.clinic.timeZone;
      const inDays = (date: string) => format.date.dayAndDistance(date, todayIn(zone));
      const since = ago(order.stateSince, zone);
      const parts = [t('order.stands', { state: t(`order.state.${order.state}`), since })];
      const arrived = order.arrivedAt !== null;
      if (!arrived && order.expectedOn)
        parts.push(t('order.expected_for', { date: inDays(order.expectedOn) }));
      else if (!arrived && order.promisedOn)
        parts.push(t('order.promised_for', { date: inDays(order.promisedOn) }));
      if (order.late && !arrived) parts.push(t(order.promisedOn ? 'order.past_promise' : 'order.past_quote'));
      return [...parts, askedSince(order)].filter((part) => part !== null).join('; ');
    },
  };
}

/** How one order stands, in a sentence. */
export const useOrderSentence = (order: OrderSummary): string => useOrderTeller().sentence(order);
