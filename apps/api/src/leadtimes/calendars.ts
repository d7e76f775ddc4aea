import {
  countsFrom,
  workingDaysBetween,
  type MakerCalendar,
  type WorkingCalendar,
} from '@lensferry/calculation';
import { fromDate } from '../platform/plain-date.js';

/** The calendar of a clinic: its holidays and the weekend. */
export function calendarOf(side: { holidays: unknown }): WorkingCalendar {
  return { holidays: new Set(side.holidays as string[]) };
}

/** The calendar of a maker: its holidays, the zone that it works in, and its cut-off for new orders. */
export function makerCalendarOf(maker: {
  holidays: unknown;
  timeZone: string;
  cutOff: string | null;
}): MakerCalendar {
  return { ...calendarOf(maker), timeZone: maker.timeZone, cutOff: maker.cutOff };
}

/** Working days from the day that an order counts from to a later day, by its maker's calendar. */
export function workingDaysSince(sentAt: Date, day: string, calendar: MakerCalendar): number {
  const from = countsFrom(sentAt, calendar);
  return day <= from ? 0 : workingDaysBetween(from, day, calendar);
}

/** Working days from the day of an instant, whatever its hour: a parcel that leaves knows no cut-off. */
export function workingDaysFrom(at: Date, day: string, calendar: WorkingCalendar): number {
  const from = fromDate(at);
  return day <= from ? 0 : workingDaysBetween(from, day, calendar);
}
