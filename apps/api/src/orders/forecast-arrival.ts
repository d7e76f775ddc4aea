import {
  addWorkingDays,
  arrivalDate,
  chanceForTheatre,
  countsFrom,
  earliestTheatreDate,
  forecastArrival,
  LEAD_TIME_DAYS,
  workingDaysBetween,
  type ArrivalEvidence,
  type LeadTimeRecord,
  type MakerCalendar,
  type WorkingCalendar,
} from '@lensferry/calculation';
import type { ArrivalForecast } from '@lensferry/contracts';
import { awaitedFromMaker } from '@lensferry/domain';
import { calendarOf, workingDaysFrom, workingDaysSince } from '../leadtimes/calendars.js';
import { leadTimeHistory } from '../leadtimes/lead-time-history.queries.js';
import { theatreConfidence } from '../leadtimes/offer-dates.js';
import { dayIn, fromDate } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import type { OrderRow } from './orders.store.js';

/** Past its promise, or past the quoted time where nothing was promised. */
export function isLate(
  order: Pick<OrderRow, 'state' | 'promisedOn' | 'sentAt' | 'quotedDays'>,
  today: string,
  calendar: MakerCalendar,
): boolean {
  if (!awaitedFromMaker.includes(order.state)) return false;
  if (order.promisedOn !== null) return fromDate(order.promisedOn) < today;
  if (order.sentAt === null) return false;
  return addWorkingDays(countsFrom(order.sentAt, calendar), order.quotedDays, calendar) < today;
}

/**
 * Forecasts for the orders that are still to come, each from its maker's and class's earlier and open orders, brought
 * up to date by its own acknowledgement, promise and shipping notice. None for an order with days that no lens ever took,
 * as one that was forgotten for years, or promised for a day by mistake.
 */
export async function forecasts(
  work: Work,
  orders: readonly OrderRow[],
): Promise<Map<string, ArrivalForecast>> {
  const waiting = orders.filter(({ state }) => state === 'queued' || awaitedFromMaker.includes(state));
  const found = new Map<string, ArrivalForecast>();
  if (waiting.length === 0) return found;
  const clinics = new Map((await work.tx.clinic.findMany()).map((clinic) => [clinic.id, clinic]));
  const history = await leadTimeHistory(
    work,
    waiting.map(({ makerId }) => makerId),
  );
  for (const order of waiting) {
    const clinic = clinics.get(order.clinicId);
    if (clinic === undefined) continue;
    const today = dayIn(clinic.timeZone, work.now);
    const plan = { makerCalendar: history.calendar(order.makerId), clinicCalendar: calendarOf(clinic) };
    const forecast = forecastOne(order, history.of(order, today, order.id), plan, today);
    if (forecast !== null) found.set(order.id, forecast);
  }
  return found;
}

function forecastOne(
  order: OrderRow,
  history: LeadTimeRecord[],
  calendars: { makerCalendar: MakerCalendar; clinicCalendar: WorkingCalendar },
  today: string,
): ArrivalForecast | null {
  const { makerCalendar } = calendars;
  const openSince = order.sentAt === null ? 0 : workingDaysSince(order.sentAt, today, makerCalendar);
  const evidence = evidenceOf(order, makerCalendar, today);
  const { promisedInDays = 0, shippedDaysAgo = 0, transitDays = 0 } = evidence;
  if ([openSince, Math.abs(promisedInDays), shippedDaysAgo, transitDays].some(isBeyond)) return null;
  const forecast = forecastArrival(
    history,
    { workingDays: Math.max(1, order.quotedDays) },
    openSince,
    evidence,
  );
  const plan = { ...calendars, confidence: theatreConfidence };
  const date = (days: number): string => arrivalDate(today, days, plan);
  const needBy = order.needBy === null ? null : fromDate(order.needBy);
  return {
    p10: date(forecast.p10),
    p50: date(forecast.p50),
    p90: date(forecast.p90),
    inTime: needBy === null ? null : chanceForTheatre(today, needBy, forecast, plan),
    basedOn: forecast.ordersBehind,
    earliestTheatreOn: earliestTheatreDate(today, forecast, plan),
  };
}

const isBeyond = (days: number): boolean => days > LEAD_TIME_DAYS.max;

function evidenceOf(order: OrderRow, calendar: MakerCalendar, today: string): ArrivalEvidence {
  if (order.shippedAt !== null) {
    const shipped = fromDate(order.shippedAt);
    const expected = order.expectedOn === null ? null : fromDate(order.expectedOn);
    return {
      acknowledged: true,
      shippedDaysAgo: workingDaysFrom(order.shippedAt, today, calendar),
      ...(expected === null || expected < shipped
        ? {}
        : { transitDays: workingDaysBetween(shipped, expected, calendar) }),
    };
  }
  if (order.promisedOn !== null) {
    const promised = fromDate(order.promisedOn);
    const inDays =
      promised >= today
        ? workingDaysBetween(today, promised, calendar)
        : -workingDaysBetween(promised, today, calendar);
    return { acknowledged: true, promisedInDays: inDays };
  }
  return { acknowledged: order.acknowledgedAt !== null };
}
