import { DesignSheet, type MakerSummary } from '@lensferry/contracts';
import { awaitedFromMaker, DomainError } from '@lensferry/domain';
import { makerCalendarOf } from '../leadtimes/calendars.js';
import { isLate } from '../orders/forecast-arrival.js';
import { fromDate } from '../platform/plain-date.js';
import { within } from '../platform/state-keys.js';
import type { Work } from '../platform/work.js';

/** Every maker with what it makes and how it has kept its word to the clinics that the person may see. */
export async function listMakers(work: Work, makerId?: string): Promise<MakerSummary[]> {
  const { tx, now } = work;
  const makers = await tx.maker.findMany({
    where: makerId === undefined ? {} : { id: makerId },
    include: {
      designs: {
        include: { versions: { where: { validFrom: { lte: now } }, orderBy: { version: 'desc' }, take: 1 } },
        orderBy: { code: 'asc' },
      },
    },
    orderBy: { name: 'asc' },
  });
  const { orders } = await within(work);
  const waiting = await tx.lensOrder.findMany({
    where: { makerId: { in: makers.map(({ id }) => id) }, ...orders(awaitedFromMaker) },
    select: { makerId: true, state: true, promisedOn: true, sentAt: true, quotedDays: true },
  });
  const word = await wordKept(work);
  const today = fromDate(now);
  return makers.map((maker) => {
    const own = waiting.filter((order) => order.makerId === maker.id);
    const { arrived = 0, median = null, promised = 0, kept = 0 } = word.get(maker.id) ?? {};
    return {
      id: maker.id,
      code: maker.code,
      name: maker.name,
      channel: maker.channel,
      timeZone: maker.timeZone,
      currency: maker.currency,
      returnWindowDays: maker.returnWindowDays,
      contact: maker.contact,
      cutOff: maker.cutOff,
      terms: maker.terms,
      holidays: maker.holidays as string[],
      address: maker.address,
      website: maker.website,
      endpoint: maker.endpoint,
      orderEmail: maker.orderEmail,
      sendsPerMinute: maker.sendsPerMinute,
      hasSecret: maker.secretSealed !== null,
      version: maker.version,
      designs: maker.designs.flatMap((design) =>
        design.versions.map((version) => ({
          id: version.id,
          code: design.code,
          name: design.name,
          version: version.version,
          validFrom: fromDate(version.validFrom),
          sheet: DesignSheet.parse(version.sheet),
        })),
      ),
      openOrders: own.length,
      lateOrders: own.filter((order) => isLate(order, today, makerCalendarOf(maker))).length,
      arrived,
      medianWorkingDays: median,
      promisesKept: { kept, of: promised },
    };
  });
}

interface Word {
  readonly arrived: number;
  readonly median: number | null;
  readonly promised: number;
  readonly kept: number;
}

/** How many lenses came of each maker, after how many working days in the middle, and how many by the first promise. */
async function wordKept({ tx, actor }: Work): Promise<Map<string, Word>> {
  const rows = await tx.$queryRaw<(Word & { maker: string })[]>`
    select maker_id::text as maker, count(*)::int as arrived,
      percentile_disc(0.5) within group (order by lead_days)::int as median,
      count(first_promised_on)::int as promised,
      (count(*) filter (where (arrived_at at time zone 'UTC')::date <= first_promised_on))::int as kept
    from lens_order where clinic_id = any (${actor.clinicIds}::uuid[]) and arrived_at is not null group by maker_id`;
  return new Map(rows.map(({ maker, ...word }) => [maker, word]));
}

export async function showMaker(work: Work, makerId: string): Promise<MakerSummary> {
  const [maker] = await listMakers(work, makerId);
  if (maker === undefined) throw new DomainError('missing', 'maker.missing', 'There is no such maker.');
  return maker;
}
