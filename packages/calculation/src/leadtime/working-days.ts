import { CalculationError, requireNumber } from '../calculation-error.js';

/** One side's calendar: holidays as ISO plain dates, and the days of the week (ISO, 1 = Monday) without work. */
export interface WorkingCalendar {
  readonly holidays: ReadonlySet<string>;
  /** Saturday and Sunday (6 and 7) when left out. */
  readonly restDays?: readonly number[] | undefined;
}

const DAY_MS = 86_400_000;
const WEEKEND = [6, 7];
const MOST_DAYS = 100_000;

function dayNumber(field: string, isoDate: string): number {
  const at = /^\d{4}-\d{2}-\d{2}$/.test(isoDate) ? Date.parse(`${isoDate}T00:00:00Z`) : Number.NaN;
  // Date.parse takes 30 February for 2 March on some engines; writing it back finds that out.
  if (Number.isNaN(at) || isoDay(at / DAY_MS) !== isoDate) {
    throw new CalculationError(
      'input.out-of-range',
      field,
      isoDate,
      'an existing date written as 2026-11-25',
    );
  }
  return at / DAY_MS;
}

function isoDay(day: number): string {
  return new Date(day * DAY_MS).toISOString().slice(0, 10);
}

function isWorkday(day: number, calendar: WorkingCalendar): boolean {
  // Day 0, 1 January 1970, was a Thursday.
  const weekday = ((((day + 3) % 7) + 7) % 7) + 1;
  if ((calendar.restDays ?? WEEKEND).includes(weekday)) return false;
  return calendar.holidays.size === 0 || !calendar.holidays.has(isoDay(day));
}

function asCalendar(calendar: WorkingCalendar | ReadonlySet<string>): WorkingCalendar {
  const whole = 'holidays' in calendar ? calendar : { holidays: calendar };
  if (new Set(whole.restDays ?? WEEKEND).size >= 7) {
    throw new CalculationError(
      'input.out-of-range',
      'restDays',
      whole.restDays,
      'at most six days of the week',
    );
  }
  return whole;
}

/** True when work is done on that date. */
export function isWorkingDay(isoDate: string, calendar: WorkingCalendar | ReadonlySet<string>): boolean {
  return isWorkday(dayNumber('isoDate', isoDate), asCalendar(calendar));
}

/**
 * The date that is `n` working days after (before, when negative) a date, which itself is not counted.
 * With n = 0 the date itself is returned, working day or not.
 * Throws CalculationError when the date does not exist or n is not a whole number within 100 000.
 * @example addWorkingDays('2026-03-30', 5, new Set(['2026-04-03', '2026-04-06'])) // '2026-04-08'
 */
export function addWorkingDays(
  isoDate: string,
  n: number,
  calendar: WorkingCalendar | ReadonlySet<string>,
): string {
  const days = asCalendar(calendar);
  requireNumber('n', n, { min: -MOST_DAYS, max: MOST_DAYS, unit: 'working days' });
  if (!Number.isInteger(n))
    throw new CalculationError('input.out-of-range', 'n', n, 'a whole number of working days');
  let day = dayNumber('isoDate', isoDate);
  const step = n < 0 ? -1 : 1;
  for (let left = Math.abs(n); left > 0;) {
    day += step;
    if (isWorkday(day, days)) left -= 1;
  }
  return isoDay(day);
}

/**
 * Working days after `from` up to and including `to`; negative when `to` is earlier, 0 on the same date.
 * Undoes {@link addWorkingDays} wherever that landed on a working day.
 */
export function workingDaysBetween(
  from: string,
  to: string,
  calendar: WorkingCalendar | ReadonlySet<string>,
): number {
  const days = asCalendar(calendar);
  const first = dayNumber('from', from);
  const last = dayNumber('to', to);
  let count = 0;
  if (last >= first) for (let day = first + 1; day <= last; day += 1) count += isWorkday(day, days) ? 1 : 0;
  else for (let day = first - 1; day >= last; day -= 1) count -= isWorkday(day, days) ? 1 : 0;
  return count;
}

/** The date itself when it is a working day, else the next one: when a clinic takes in what came on its holiday. */
export function nextWorkingDay(isoDate: string, calendar: WorkingCalendar | ReadonlySet<string>): string {
  return isWorkingDay(isoDate, calendar) ? isoDate : addWorkingDays(isoDate, 1, calendar);
}
