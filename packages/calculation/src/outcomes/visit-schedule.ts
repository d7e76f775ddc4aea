import { CalculationError, requireNumber } from '../calculation-error.js';

/** A visit of the schedule: so many days after surgery, and the days that count as it. */
export interface ScheduledVisit {
  /** `day-1`, `week-1`, `month-3`, `year-2` … */
  readonly code: string;
  readonly day: number;
  readonly fromDay: number;
  readonly toDay: number;
}

/** Where one scheduled visit stands. */
export interface VisitStanding extends ScheduledVisit {
  readonly state: 'done' | 'due' | 'overdue' | 'missed' | 'ahead';
}

/** Day 1, week 1, months 1, 3, 6 and 12, then yearly: common practice, no source; the days are a network's setting. */
export const DEFAULT_VISIT_DAYS: readonly number[] = [1, 7, 30, 91, 182, 365];

const DAY = { min: 0, max: 36_525, unit: 'days' };
const YEAR = 365;

/**
 * The visits of a schedule up to a day after surgery, the last one repeated yearly. A day counts as the visit that it
 * is nearest to. Throws CalculationError unless the days rise from 0 or more.
 * @source common practice, no source
 * @example scheduledVisits(40).map(({ code }) => code) // ['day-1', 'week-1', 'month-1']
 */
export function scheduledVisits(
  untilDay: number,
  visitDays: readonly number[] = DEFAULT_VISIT_DAYS,
): ScheduledVisit[] {
  requireNumber('untilDay', untilDay, DAY);
  const days = rising(visitDays);
  for (let day = (days.at(-1) as number) + YEAR; day <= untilDay + YEAR; day += YEAR) days.push(day);
  const middle = (a: number, b: number): number => Math.floor((a + b) / 2);
  return days
    .map((day, i) => ({
      code: codeOf(day),
      day,
      fromDay: i === 0 ? 0 : middle(days[i - 1] as number, day) + 1,
      toDay: middle(day, days[i + 1] ?? day + YEAR),
    }))
    .filter(({ fromDay }) => fromDay <= untilDay);
}

function rising(visitDays: readonly number[]): number[] {
  if (visitDays.length === 0) {
    throw new CalculationError('input.missing', 'visitDays', visitDays, 'at least one day after surgery');
  }
  visitDays.forEach((day, i) =>
    requireNumber(`visitDays[${i}]`, day, { ...DAY, min: i === 0 ? 0 : (visitDays[i - 1] as number) + 1 }),
  );
  return [...visitDays];
}

function codeOf(day: number): string {
  if (day >= 2 * YEAR - 20) return `year-${Math.round(day / YEAR)}`;
  if (day >= 26) return `month-${Math.round(day / 30.4)}`;
  return day >= 6 ? `week-${Math.round(day / 7)}` : `day-${day}`;
}

/**
 * Where an eye stands in its schedule: what is done, due today, overdue, missed (its days are over) or ahead. Days
 * count from surgery; `visitedOn` are days of visits. The next one ahead is the last of the list.
 * Throws CalculationError for a negative day or a schedule that does not rise.
 * @source common practice, no source
 * @example visitStandings(10, [1]).map(({ code, state }) => `${code} ${state}`) // ['day-1 done', 'week-1 overdue', 'month-1 ahead']
 */
export function visitStandings(
  today: number,
  visitedOn: readonly number[],
  visitDays: readonly number[] = DEFAULT_VISIT_DAYS,
): VisitStanding[] {
  requireNumber('today', today, DAY);
  visitedOn.forEach((day, i) => requireNumber(`visitedOn[${i}]`, day, DAY));
  const visits = scheduledVisits(today + 2 * YEAR, visitDays);
  const firstAhead = visits.findIndex(({ day }) => day > today);
  return visits.slice(0, firstAhead + 1).map((visit) => {
    const { day, fromDay, toDay } = visit;
    const done = visitedOn.some((on) => on >= fromDay && on <= toDay);
    const state = done
      ? 'done'
      : today < day
        ? 'ahead'
        : today === day
          ? 'due'
          : today <= toDay
            ? 'overdue'
            : 'missed';
    return { ...visit, state };
  });
}
