import type { ArrivalForecast } from '@lensferry/contracts';
import { fromDate, plusDays } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import type { OrderRow } from './orders.store.js';

/** Past its promise, or past the quoted time where nothing was promised. */
export function isLate(order: OrderRow, today: string, _holidays: readonly string[]): boolean {
  if (!['sent', 'disputed', 'acknowledged', 'shipped'].includes(order.state)) return false;
  if (order.promisedOn !== null) return fromDate(order.promisedOn) < today;
  return (
    order.sentAt !== null && plusDays(fromDate(order.sentAt), Math.ceil((order.quotedDays * 7) / 5)) < today
  );
}

/** Forecasts for the orders that are still to come. */
export async function forecasts(
  _work: Work,
  _orders: readonly OrderRow[],
): Promise<Map<string, ArrivalForecast>> {
  return new Map();
}
