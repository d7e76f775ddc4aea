import { fromDate, plusDays } from '../platform/plain-date.js';

/** Working days from the day an order was sent to the day its lens arrived, by the maker's calendar. */
export function workingDaysOf(
  order: { sentAt: Date | null; arrivedAt: Date | null },
  holidays: readonly string[],
): number {
  if (order.sentAt === null || order.arrivedAt === null) return 0;
  return workingDaysBetween(fromDate(order.sentAt), fromDate(order.arrivedAt), holidays);
}

function workingDaysBetween(from: string, to: string, holidays: readonly string[]): number {
  let days = 0;
  for (let day = plusDays(from, 1); day <= to; day = plusDays(day, 1)) {
    const weekday = new Date(`${day}T00:00:00Z`).getUTCDay();
    if (weekday !== 0 && weekday !== 6 && !holidays.includes(day)) days += 1;
  }
  return days;
}
