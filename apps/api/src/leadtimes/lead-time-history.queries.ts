import { LEAD_TIME_DAYS, type LeadTimeRecord, type MakerCalendar } from '@lensferry/calculation';
import { awaitedFromMaker } from '@lensferry/domain';
import { fromDate } from '../platform/plain-date.js';
import { grouped } from '../platform/grouped.js';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { makerCalendarOf, workingDaysSince } from './calendars.js';

/** Orders older than this say nothing of how a maker works now. */
const historyDays = 730;
/** So many of a clinic's latest orders of a class whose wait has ended are enough to forecast the next one. */
const latestEnded = 500;

/** What a record is read off; `leadDays` and its two companions are there once the wait has ended. */
export type SentOrder = Pick<
  Prisma.LensOrderGetPayload<object>,
  | 'state'
  | 'sentAt'
  | 'acknowledgedAt'
  | 'promisedOn'
  | 'shippedAt'
  | 'arrivedAt'
  | 'endedAt'
  | 'leadDays'
  | 'promisedDays'
  | 'shippedDays'
>;

/** Orders of one maker and class wait alike: from the shelf, made, or made with a high cylinder. */
export function waitingClass(order: { makerId: string; quotedDays: number }): string {
  return `${order.makerId}:${order.quotedDays}`;
}

/**
 * What one order teaches about its maker; null for one that was never sent. Of a wait longer than any that is counted
 * with it teaches that nothing had come by then.
 */
export function recordOf(order: SentOrder, calendar: MakerCalendar, today: string): LeadTimeRecord | null {
  if (order.sentAt === null) return null;
  const acknowledged = order.acknowledgedAt !== null;
  if (order.leadDays !== null && order.leadDays <= LEAD_TIME_DAYS.max && endOf(order) !== null)
    return {
      workingDays: order.leadDays,
      outcome: order.arrivedAt === null ? 'cancelled' : 'arrived',
      promisedWorkingDays: order.promisedDays ?? undefined,
      shippedAfterWorkingDays: order.shippedDays ?? undefined,
      acknowledged,
    };
  const days = daysOfWait(order, calendar, today);
  return {
    workingDays: Math.min(days.leadDays, LEAD_TIME_DAYS.max),
    outcome: 'open',
    promisedWorkingDays: days.promisedDays ?? undefined,
    shippedAfterWorkingDays: days.shippedDays ?? undefined,
    acknowledged,
  };
}

/** The instant at which nothing was awaited any more: it came, or it was declined or cancelled; null while it may come. */
const endOf = ({ arrivedAt, endedAt, state }: Pick<SentOrder, 'arrivedAt' | 'endedAt' | 'state'>) =>
  arrivedAt ?? (state === 'declined' || state === 'cancelled' ? endedAt : null);

function daysOfWait(
  order: Pick<SentOrder, 'sentAt' | 'promisedOn' | 'shippedAt'>,
  calendar: MakerCalendar,
  until: string,
) {
  const days = (at: Date | null): number | null =>
    at === null || order.sentAt === null ? null : workingDaysSince(order.sentAt, fromDate(at), calendar);
  const leadDays = order.sentAt === null ? 0 : workingDaysSince(order.sentAt, until, calendar);
  const shipped = days(order.shippedAt);
  return {
    leadDays,
    promisedDays: days(order.promisedOn),
    // A parcel can be taken in before its notice is read; its time in transit is then none.
    shippedDays: shipped === null ? null : Math.min(shipped, leadDays),
  };
}

/** The days to write down with the step that ends a wait; nothing for a step that does not. */
export async function waitThatEnds(
  { tx }: Work,
  before: SentOrder,
  after: SentOrder & { makerId: string },
): Promise<Partial<ReturnType<typeof daysOfWait>>> {
  const end = endOf(after);
  if (end === null || after.sentAt === null || endOf(before) !== null) return {};
  const maker = await tx.maker.findUniqueOrThrow({ where: { id: after.makerId } });
  return daysOfWait(after, makerCalendarOf(maker), fromDate(end));
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

interface EndedLine extends LeadTimeRecord {
  readonly makerId: string;
  readonly quotedDays: number;
}

/**
 * Reads the history of some makers, as far as the person's clinics made it: of each clinic and class the latest orders
 * whose wait has ended, and every open one that was sent in the same time, so that slow and quick ones count alike.
 * With `onlyQuotedDays` it knows that one class only.
 */
export async function leadTimeHistory(
  work: Work,
  makerIds: readonly string[],
  onlyQuotedDays?: number,
): Promise<LeadTimeHistory> {
  const ids = [...new Set(makerIds)];
  const since = new Date(work.now.getTime() - historyDays * 86_400_000);
  const makers = await work.tx.maker.findMany({ where: { id: { in: ids } } });
  const calendars = new Map(makers.map((maker) => [maker.id, makerCalendarOf(maker)]));
  const calendar = (makerId: string): MakerCalendar =>
    calendars.get(makerId) ?? { holidays: new Set(), timeZone: 'UTC', cutOff: null };
  const { lines, reach } = await endedLines(work, ids, { since, only: onlyQuotedDays ?? null });
  const open = await openOrders(work, ids, { since, only: onlyQuotedDays ?? null });
  const ended = grouped(lines, waitingClass);
  const waiting = grouped(
    open.filter(({ sentAt, ...one }) => sentAt !== null && sentAt >= (reach.get(reachKey(one)) ?? since)),
    waitingClass,
  );
  const daysOpen = new Map<string, LeadTimeRecord | null>();
  const openRecord = (order: (typeof open)[number], today: string): LeadTimeRecord | null => {
    const key = `${order.id} ${today}`;
    const known = daysOpen.get(key);
    if (known !== undefined) return known;
    const record = recordOf(order, calendar(order.makerId), today);
    daysOpen.set(key, record);
    return record;
  };
  return {
    calendar,
    of: (asked, today, exceptOrderId) => [
      ...(ended.get(waitingClass(asked)) ?? []),
      ...(waiting.get(waitingClass(asked)) ?? [])
        .filter(({ id }) => id !== exceptOrderId)
        .flatMap((order) => openRecord(order, today) ?? []),
    ],
  };
}

interface Reach {
  readonly since: Date;
  /** The one class that is asked for, by its quoted days; null for all. */
  readonly only: number | null;
}

const reachKey = (of: { clinicId: string; makerId: string; quotedDays: number }): string =>
  `${of.clinicId}:${waitingClass(of)}`;

/** Ended waits, like ones counted together, and since when each clinic's orders of a class were all read. */
async function endedLines({ tx, actor }: Work, makerIds: string[], { since, only }: Reach) {
  const rows = await tx.$queryRaw<
    {
      clinic: string;
      maker: string;
      quoted: number;
      lead: number;
      promised: number | null;
      shipped: number | null;
      arrived: boolean;
      acknowledged: boolean;
      orders: number;
      first: Date;
      read: bigint;
    }[]
  >`
    with recursive class as (
      select c.clinic, m.maker, coalesce(${only}::int, (select min(o.quoted_days) from lens_order o
        where o.clinic_id = c.clinic and o.maker_id = m.maker and o.lead_days is not null)) as quoted
      from unnest(${actor.clinicIds}::uuid[]) c(clinic) cross join unnest(${makerIds}::uuid[]) m(maker)
      union all
      select clinic, maker, (select min(o.quoted_days) from lens_order o
        where o.clinic_id = clinic and o.maker_id = maker and o.lead_days is not null and o.quoted_days > quoted)
      from class where quoted is not null and ${only}::int is null
    )
    select clinic::text, maker::text, quoted, lead, promised, shipped, arrived, acknowledged,
      count(*)::int as orders, min(sent) as first, max(nth) as read
    from class cross join lateral (
      select o.lead_days as lead, o.promised_days as promised, o.shipped_days as shipped, o.sent_at as sent,
        o.arrived_at is not null as arrived, o.acknowledged_at is not null as acknowledged,
        row_number() over (order by o.sent_at desc) as nth
      from lens_order o
      where o.clinic_id = class.clinic and o.maker_id = class.maker and o.quoted_days = class.quoted
        and o.lead_days is not null and o.sent_at >= ${since}
      order by o.sent_at desc limit ${latestEnded}
    ) ended
    group by clinic, maker, quoted, lead, promised, shipped, arrived, acknowledged`;
  const reach = new Map<string, Date>();
  for (const [key, lines] of grouped(rows, ({ clinic, maker, quoted }) =>
    reachKey({ clinicId: clinic, makerId: maker, quotedDays: quoted }),
  )) {
    if (!lines.some(({ read }) => Number(read) >= latestEnded)) continue;
    reach.set(key, new Date(Math.min(...lines.map(({ first }) => first.getTime()))));
  }
  const lines = rows.map((row): EndedLine => ({
    makerId: row.maker,
    quotedDays: row.quoted,
    workingDays: row.lead,
    outcome: row.arrived ? 'arrived' : 'cancelled',
    promisedWorkingDays: row.promised ?? undefined,
    shippedAfterWorkingDays: row.shipped ?? undefined,
    acknowledged: row.acknowledged,
    orders: row.orders,
  }));
  return { lines, reach };
}

/** Orders that were sent and may still come. */
function openOrders({ tx }: Work, makerIds: string[], { since, only }: Reach) {
  return tx.lensOrder.findMany({
    where: {
      makerId: { in: makerIds },
      sentAt: { gte: since },
      ...(only === null ? {} : { quotedDays: only }),
      leadDays: null,
      state: { in: [...awaitedFromMaker] },
    },
    select: {
      id: true,
      clinicId: true,
      makerId: true,
      quotedDays: true,
      state: true,
      sentAt: true,
      acknowledgedAt: true,
      promisedOn: true,
      shippedAt: true,
      arrivedAt: true,
      endedAt: true,
      leadDays: true,
      promisedDays: true,
      shippedDays: true,
    },
  });
}
