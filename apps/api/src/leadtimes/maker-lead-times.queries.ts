import {
  arrivalQuantile,
  CalculationError,
  intervalCalibration,
  logRank,
  productLimit,
  restrictedMeanDays,
  wilsonInterval,
  type LeadTimeRecord,
  type Proportion,
} from '@lensferry/calculation';
import type { ArrivalCurve, MakerLeadTimes, CountedShare } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import { fromDate } from '../platform/plain-date.js';
import { grouped } from '../platform/grouped.js';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { makerCalendarOf, workingDaysSince } from './calendars.js';
import { readKeptForecast } from './keep-forecast.js';
import { recordOf } from './lead-time-history.queries.js';

const told = {
  makerId: true,
  designVersionId: true,
  quotedDays: true,
  state: true,
  sentAt: true,
  acknowledgedAt: true,
  promisedOn: true,
  firstPromisedOn: true,
  shippedAt: true,
  arrivedAt: true,
  endedAt: true,
  leadDays: true,
  promisedDays: true,
  shippedDays: true,
} as const satisfies Prisma.LensOrderSelect;
type Sent = Prisma.LensOrderGetPayload<{ select: typeof told }>;

/** How one maker delivers, keeps its word and is forecast. @throws DomainError `maker.missing`. */
export async function makerLeadTimes(work: Work, makerId: string): Promise<MakerLeadTimes> {
  const makers = await work.tx.maker.findMany({ include: { designs: { include: { versions: true } } } });
  const maker = makers.find(({ id }) => id === makerId);
  if (maker === undefined) throw new DomainError('missing', 'maker.missing', 'There is no such maker.');
  const today = fromDate(work.now);
  const sent = await work.tx.lensOrder.findMany({ where: { sentAt: { not: null } }, select: told });
  const forecast = await work.tx.lensOrder.findMany({
    where: { makerId, arrivedAt: { not: null } },
    select: { sentAt: true, arrivedAt: true, forecastAtSending: true },
  });
  const calendars = new Map(makers.map((one) => [one.id, makerCalendarOf(one)]));
  const recordsOf = (orders: readonly Sent[]): LeadTimeRecord[] =>
    orders.flatMap(
      (order) => recordOf(order, calendars.get(order.makerId) ?? makerCalendarOf(maker), today) ?? [],
    );
  const own = sent.filter((order) => order.makerId === makerId);
  const others = recordsOf(sent.filter((order) => order.makerId !== makerId));
  const designs = maker.designs.flatMap(({ name, versions }) => versions.map(({ id }) => ({ id, name })));
  const byQuote = [...grouped(own, ({ quotedDays }) => quotedDays)].sort(([a], [b]) => a - b);
  return {
    makerId,
    makerName: maker.name,
    all: own.length === 0 ? null : curveOf(recordsOf(own)),
    classes: byQuote.map(([quotedWorkingDays, orders]) => ({
      quotedWorkingDays,
      designs: [
        ...new Set(
          designs
            .filter(({ id }) => orders.some(({ designVersionId }) => designVersionId === id))
            .map(({ name }) => name),
        ),
      ],
      curve: curveOf(recordsOf(orders)),
    })),
    ...wordKept(own),
    ...(await lensesOf(work, makerId)),
    calibration: calibrationOf(forecast, (order, day) =>
      workingDaysSince(order.sentAt ?? work.now, day, makerCalendarOf(maker)),
    ),
    againstOthers: compared(recordsOf(own), others),
  };
}

/** A share as the screens want it; null of nothing. */
export function shareOf(count: number, of: number): CountedShare | null {
  return of === 0 ? null : written(wilsonInterval(count, of));
}

const written = ({ count, n, share, low, high }: Proportion): CountedShare => ({
  count,
  of: n,
  share,
  low,
  high,
});

/** The curve of what has come, 0 to 1; its limits are those of what is still awaited, turned round. */
export function curveOf(records: readonly LeadTimeRecord[]): ArrivalCurve {
  const curve = productLimit(records);
  const count = (outcome: LeadTimeRecord['outcome']): number =>
    records.filter((record) => record.outcome === outcome).length;
  return {
    orders: curve.orders,
    arrivals: curve.arrivals,
    open: count('open'),
    cancelled: count('cancelled'),
    medianDays: arrivalQuantile(curve, 0.5),
    ninetyPercentDays: arrivalQuantile(curve, 0.9),
    restrictedMeanDays: restrictedMeanDays(curve),
    lastDay: curve.lastDay,
    steps: curve.steps.map(({ day, atRisk, awaited, low, high }) => ({
      day,
      atRisk,
      arrived: 1 - awaited,
      low: 1 - high,
      high: 1 - low,
    })),
  };
}

function wordKept(own: readonly Sent[]): Pick<MakerLeadTimes, 'promisesKept' | 'declined'> {
  const promised = own.filter(
    ({ arrivedAt, firstPromisedOn }) => arrivedAt !== null && firstPromisedOn !== null,
  );
  const kept = promised.filter(
    ({ arrivedAt, firstPromisedOn }) =>
      arrivedAt !== null && firstPromisedOn !== null && fromDate(arrivedAt) <= fromDate(firstPromisedOn),
  );
  const ended = own.filter(({ arrivedAt, state }) => arrivedAt !== null || state === 'declined');
  return {
    promisesKept: shareOf(kept.length, promised.length),
    declined: shareOf(ended.filter(({ state }) => state === 'declined').length, ended.length),
  };
}

async function lensesOf(
  { tx }: Work,
  makerId: string,
): Promise<Pick<MakerLeadTimes, 'exchanged' | 'quarantined'>> {
  const implanted = await tx.implantation.findMany({
    where: { lens: { makerId } },
    select: { explantedOn: true },
  });
  const came = await tx.lensOrder.findMany({
    where: { makerId, arrivedAt: { not: null } },
    select: { clinicId: true, id: true },
  });
  // A lens that was released later was still a trouble at the desk, so the record is asked, not the state.
  const troubled = await tx.auditEntry.findMany({
    where: { action: 'order.quarantine', orderId: { in: came.map(({ id }) => id) } },
    select: { orderId: true },
    distinct: ['orderId'],
  });
  return {
    exchanged: shareOf(implanted.filter(({ explantedOn }) => explantedOn !== null).length, implanted.length),
    quarantined: shareOf(troubled.length, came.length),
  };
}

/** Of the arrivals with a forecast kept, those inside its 90 % interval. */
export function calibrationOf<Order extends { arrivedAt: Date | null; forecastAtSending: unknown }>(
  orders: readonly Order[],
  daysTo: (order: Order, day: string) => number,
  level = 0.9,
): MakerLeadTimes['calibration'] {
  const pairs = orders.flatMap((order) => {
    const forecast = readKeptForecast(order.forecastAtSending);
    if (forecast === null || order.arrivedAt === null) return [];
    return [{ forecast, arrivedAfterDays: Math.max(1, daysTo(order, fromDate(order.arrivedAt))) }];
  });
  if (pairs.length === 0) return null;
  return { level, ...written(intervalCalibration(pairs, level)) };
}

function compared(own: LeadTimeRecord[], others: LeadTimeRecord[]): MakerLeadTimes['againstOthers'] {
  try {
    const { chiSquare, p } = logRank([own, others]);
    return { chiSquare, p, otherOrders: others.length };
  } catch (error) {
    if (error instanceof CalculationError) return null;
    throw error;
  }
}
