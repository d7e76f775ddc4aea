import { CalculationError } from '../calculation-error.js';
import { addWorkingDays, isWorkingDay, type WorkingCalendar } from './working-days.js';

/** When a maker's working day ends for new orders. */
export interface MakerClock {
  /** IANA name of the zone that the maker works in, such as `Europe/Zurich`. */
  readonly timeZone: string;
  /** Local time, `HH:MM` of 24 hours, from which an order counts from the next working day; null without one. */
  readonly cutOff: string | null;
}

/** A maker's working days and the hour at which one of them is over for new orders. */
export type MakerCalendar = WorkingCalendar & MakerClock;

/** Making a formatter is slow, and there are few time zones. */
const formatters = new Map<string, Intl.DateTimeFormat>();

function formatterOf(timeZone: string): Intl.DateTimeFormat {
  const known = formatters.get(timeZone);
  if (known !== undefined) return known;
  try {
    const made = new Intl.DateTimeFormat('sv-SE', {
      timeZone,
      year: 'numeric',
      month: '2-digit',
      day: '2-digit',
      hour: '2-digit',
      minute: '2-digit',
      hourCycle: 'h23',
    });
    formatters.set(timeZone, made);
    return made;
  } catch {
    throw new CalculationError('input.out-of-range', 'timeZone', timeZone, 'an IANA time zone');
  }
}

/**
 * The maker's day (ISO plain date) that an order counts from: day 0 of its lead time. It is the day in the maker's own
 * zone on which the order reaches it; with a cut-off, an order that comes at that hour or later, or on a day without
 * work, counts from the next working day. Daylight saving is the zone's own: the hour is read off the wall.
 * Throws CalculationError for an instant, a zone or an hour that doesn't exist.
 * @example countsFrom('2026-03-27T15:30:00Z', { timeZone: 'Europe/Zurich', cutOff: '16:00', holidays: new Set() }) // '2026-03-30'
 */
export function countsFrom(instant: string | Date, maker: MakerCalendar): string {
  const at = new Date(instant);
  if (Number.isNaN(at.getTime()))
    throw new CalculationError('input.out-of-range', 'instant', String(instant), 'an instant in ISO 8601');
  if (maker.cutOff !== null && !/^([01]\d|2[0-3]):[0-5]\d$/.test(maker.cutOff))
    throw new CalculationError('input.out-of-range', 'cutOff', maker.cutOff, 'a time from 00:00 to 23:59');
  const [day = '', time = ''] = formatterOf(maker.timeZone).format(at).split(' ');
  if (maker.cutOff === null) return day;
  return time < maker.cutOff && isWorkingDay(day, maker) ? day : addWorkingDays(day, 1, maker);
}
