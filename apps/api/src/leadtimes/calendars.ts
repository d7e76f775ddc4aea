import { workingDaysBetween, type WorkingCalendar } from '@lensferry/calculation';
import { fromDate } from '../platform/plain-date.js';

/** The calendar of a maker or a clinic: its holidays and the weekend. */
export function calendarOf(side: { holidays: unknown }): WorkingCalendar {
  return { holidays: new Set(side.holidays as string[]) };
}

/** Working days from the day an order was sent to a later day, by its maker's calendar. */
export function workingDaysSince(sentAt: Date, day: string, calendar: WorkingCalendar): number {
  const from = fromDate(sentAt);
  return day <= from ? 0 : workingDaysBetween(from, day, calendar);
}
