import {
  addWorkingDays,
  arrivalDate,
  forecastArrival,
  workingDaysBetween,
  type ArrivalEvidence,
  type LeadTimeRecord,
  type WorkingCalendar,
} from '@lensferry/calculation';
import type { ArrivalForecast } from '@lensferry/contracts';
import type { Specification } from '@lensferry/domain';
import { dayIn, fromDate } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import type { OrderRow } from './orders.store.js';

/** Orders older than this say nothing of how a maker works now. */
const historyDays = 730;

/** Orders of one maker and class wait alike: from the shelf, made, or made with a high cylinder. */
function classOf(order: OrderRow): string {
  return `${order.makerId}:${order.quotedDays}`;
}

/** A maker's calendar: its holidays and the weekend. */
export function calendarOf(maker: { holidays: unknown }): WorkingCalendar {
  return { holidays: new Set(maker.holidays as string[]) };
}

/** Working days from the day an order was sent to a later day, by its maker's calendar. */
export function workingDaysSince(sentAt: Date, day: string, calendar: WorkingCalendar): number {
  const from = fromDate(sentAt);
  return day <= from ? 0 : workingDaysBetween(from, day, calendar);
}

/** Past its promise, or past the quoted time where nothing was promised. */
export function isLate(order: OrderRow, today: string, holidays: readonly string[]): boolean {
  if (!['sent', 'disputed', 'acknowledged', 'shipped'].includes(order.state)) return false;
  if (order.promisedOn !== null) return fromDate(order.promisedOn) < today;
  if (order.sentAt === null) return false;
  return addWorkingDays(fromDate(order.sentAt), order.quotedDays, { holidays: new Set(holidays) }) < today;
}

/** What one order teaches about its maker; null for one that was never sent. */
export function recordOf(order: OrderRow, calendar: WorkingCalendar, today: string): LeadTimeRecord | null {
  if (order.sentAt === null) return null;
  const days = (at: Date | null): number | undefined =>
    at === null || order.sentAt === null ? undefined : workingDaysSince(order.sentAt, fromDate(at), calendar);
  const arrived = days(order.arrivedAt);
  const ended = order.state === 'declined' || order.state === 'cancelled';
  const workingDays =
    arrived ?? (ended ? days(order.endedAt) : undefined) ?? workingDaysSince(order.sentAt, today, calendar);
  const shipped = days(order.shippedAt);
  return {
    workingDays,
    outcome: arrived !== undefined ? 'arrived' : ended ? 'cancelled' : 'open',
    promisedWorkingDays: days(order.promisedOn),
    // A parcel can be taken in before its notice is read; its time in transit is then none.
    shippedAfterWorkingDays: shipped === undefined ? undefined : Math.min(shipped, workingDays),
    acknowledged: order.acknowledgedAt !== null,
  };
}

/**
 * Forecasts for the orders that are still to come, each from its maker's and class's earlier and open orders, brought
 * up to date by its own acknowledgement, promise and shipping notice.
 */
export async function forecasts(
  work: Work,
  orders: readonly OrderRow[],
): Promise<Map<string, ArrivalForecast>> {
  const waiting = orders.filter(({ state }) =>
    ['queued', 'sent', 'disputed', 'acknowledged', 'shipped'].includes(state),
  );
  const found = new Map<string, ArrivalForecast>();
  if (waiting.length === 0) return found;
  const makerIds = [...new Set(waiting.map(({ makerId }) => makerId))];
  const makers = new Map(
    (await work.tx.maker.findMany({ where: { id: { in: makerIds } } })).map((maker) => [maker.id, maker]),
  );
  const clinics = new Map((await work.tx.clinic.findMany()).map((clinic) => [clinic.id, clinic]));
  const since = new Date(work.now.getTime() - historyDays * 86_400_000);
  const past = await work.tx.lensOrder.findMany({
    where: { makerId: { in: makerIds }, sentAt: { gte: since } },
  });
  for (const order of waiting) {
    const maker = makers.get(order.makerId);
    const clinic = clinics.get(order.clinicId);
    if (maker === undefined || clinic === undefined) continue;
    const calendar = calendarOf(maker);
    const today = dayIn(clinic.timeZone, work.now);
    const history = past
      .filter((other) => other.id !== order.id && classOf(other) === classOf(order))
      .flatMap((other) => recordOf(other, calendar, today) ?? []);
    found.set(order.id, forecastOne(order, history, calendar, today));
  }
  return found;
}

function forecastOne(
  order: OrderRow,
  history: LeadTimeRecord[],
  calendar: WorkingCalendar,
  today: string,
): ArrivalForecast {
  const openSince = order.sentAt === null ? 0 : workingDaysSince(order.sentAt, today, calendar);
  const forecast = forecastArrival(
    history,
    { workingDays: Math.max(1, order.quotedDays) },
    openSince,
    evidenceOf(order, calendar, today),
  );
  const plan = { makerCalendar: calendar, clinicCalendar: { holidays: new Set<string>() } };
  const date = (days: number): string => arrivalDate(today, days, plan);
  const needBy = order.needBy === null ? null : fromDate(order.needBy);
  return {
    p10: date(forecast.p10),
    p50: date(forecast.p50),
    p90: date(forecast.p90),
    inTime:
      needBy === null
        ? null
        : needBy <= today
          ? 0
          : forecast.chanceBy(workingDaysBetween(today, needBy, calendar)),
    basedOn: forecast.ordersBehind,
  };
}

function evidenceOf(order: OrderRow, calendar: WorkingCalendar, today: string): ArrivalEvidence {
  if (order.shippedAt !== null) {
    const shipped = fromDate(order.shippedAt);
    const expected = order.expectedOn === null ? null : fromDate(order.expectedOn);
    return {
      acknowledged: true,
      shippedDaysAgo: workingDaysSince(order.shippedAt, today, calendar),
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
