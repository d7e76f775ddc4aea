import type { MakerCalendar } from '@lensferry/calculation';
import type { LeadTimeRecord } from '@lensferry/calculation';
import { grouped } from '../platform/grouped.js';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { makerCalendarOf, workingDaysSince } from './calendars.js';
import { fromDate } from '../platform/plain-date.js';

/** Orders older than this say nothing of how a maker works now. */
const historyDays = 730;

type PastOrder = Prisma.LensOrderGetPayload<object>;

/** Orders of one maker and class wait alike: from the shelf, made, or made with a high cylinder. */
export function waitingClass(order: { makerId: string; quotedDays: number }): string {
  return `${order.makerId}:${order.quotedDays}`;
}

/** What one order teaches about its maker; null for one that was never sent. */
export function recordOf(order: PastOrder, calendar: MakerCalendar, today: string): LeadTimeRecord | null {
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

/** What makers' orders of the last two years teach, by class; one order's own record can be left out. */
export interface LeadTimeHistory {
  of(
    waiting: { makerId: string; quotedDays: number },
    today: string,
    exceptOrderId?: string,
  ): LeadTimeRecord[];
  calendar(makerId: string): MakerCalendar;
}

/** Reads the history of some makers, as far as the person's clinics made it. */
export async function leadTimeHistory(work: Work, makerIds: readonly string[]): Promise<LeadTimeHistory> {
  const ids = [...new Set(makerIds)];
  const makers = await work.tx.maker.findMany({ where: { id: { in: ids } } });
  const calendars = new Map(makers.map((maker) => [maker.id, makerCalendarOf(maker)]));
  const calendar = (makerId: string): MakerCalendar =>
    calendars.get(makerId) ?? { holidays: new Set(), timeZone: 'UTC', cutOff: null };
  const past = await work.tx.lensOrder.findMany({
    where: {
      makerId: { in: ids },
      sentAt: { gte: new Date(work.now.getTime() - historyDays * 86_400_000) },
    },
  });
  const byClass = grouped(past, waitingClass);
  return {
    calendar,
    of: (waiting, today, exceptOrderId) =>
      (byClass.get(waitingClass(waiting)) ?? [])
        .filter(({ id }) => id !== exceptOrderId)
        .flatMap((order) => recordOf(order, calendar(order.makerId), today) ?? []),
  };
}
