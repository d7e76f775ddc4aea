import { DesignSheet, type MakerSummary } from '@lensferry/contracts';
import { awaitedFromMaker, DomainError } from '@lensferry/domain';
import { makerCalendarOf } from '../leadtimes/calendars.js';
import { recordOf } from '../leadtimes/lead-time-history.queries.js';
import { isLate } from '../orders/forecast-arrival.js';
import { fromDate } from '../platform/plain-date.js';
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
  const orders = await tx.lensOrder.findMany({ where: { sentAt: { not: null } } });
  const today = fromDate(now);
  return makers.map((maker) => {
    const own = orders.filter((order) => order.makerId === maker.id);
    const arrived = own.filter((order) => order.arrivedAt !== null);
    const days = arrived
      .map((order) => recordOf(order, makerCalendarOf(maker), today)?.workingDays ?? 0)
      .sort((a, b) => a - b);
    const promised = arrived.filter(({ firstPromisedOn }) => firstPromisedOn !== null);
    const kept = promised.filter(
      ({ firstPromisedOn, arrivedAt }) =>
        firstPromisedOn !== null && arrivedAt !== null && fromDate(arrivedAt) <= fromDate(firstPromisedOn),
    );
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
      openOrders: own.filter(({ state }) => awaitedFromMaker.includes(state)).length,
      lateOrders: own.filter((order) => isLate(order, today, makerCalendarOf(maker))).length,
      arrived: arrived.length,
      medianWorkingDays: days.length === 0 ? null : (days[Math.floor((days.length - 1) / 2)] ?? null),
      promisesKept: { kept: kept.length, of: promised.length },
    };
  });
}

export async function showMaker(work: Work, makerId: string): Promise<MakerSummary> {
  const [maker] = await listMakers(work, makerId);
  if (maker === undefined) throw new DomainError('missing', 'maker.missing', 'There is no such maker.');
  return maker;
}
