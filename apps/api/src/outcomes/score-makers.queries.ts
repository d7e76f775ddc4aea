import { funnelLimits, wilsonInterval } from '@lensferry/calculation';
import type { FunnelPoint, MakerScorecard, MakerScorecards, Share } from '@lensferry/contracts';
import { makerCalendarOf } from '../leadtimes/calendars.js';
import { recordOf } from '../leadtimes/lead-time-history.queries.js';
import { daysBetween, fromDate } from '../platform/plain-date.js';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { leadCurve } from './lead-curve.js';

const around = { lenses: true } as const satisfies Prisma.LensOrderInclude;
type OrderRow = Prisma.LensOrderGetPayload<{ include: typeof around }>;
type Count = readonly [count: number, n: number];

/** Fewer than this many say nothing about a maker (common practice, no source). */
const LEAST = 5;

/** How each maker has kept its word, beside what chance alone would show in makers of its size. */
export async function scoreMakers(work: Work): Promise<MakerScorecards> {
  const { tx, now } = work;
  const makers = await tx.maker.findMany({ orderBy: { name: 'asc' } });
  const orders = await tx.lensOrder.findMany({ where: { sentAt: { not: null } }, include: around });
  const exchanges = await tx.exchange.findMany();
  const implanted = await tx.implantation.findMany({ select: { lensId: true } });
  const credits = await tx.lensReturn.findMany({
    where: { state: { in: ['handed_over', 'received'] } },
  });
  const reasons = new Map(exchanges.map(({ lensId, reason }) => [lensId, reason]));
  const inEyes = new Set(implanted.map(({ lensId }) => lensId));
  const today = fromDate(now);
  const counted = makers.map((maker) => {
    const own = orders.filter(({ makerId }) => makerId === maker.id);
    const lenses = own.flatMap((order) => order.lenses.map((lens) => ({ lens, order })));
    const used = lenses.filter(({ lens }) => inEyes.has(lens.id));
    const exchanged = used.flatMap(({ lens }) => reasons.get(lens.id) ?? []);
    return {
      maker,
      own,
      exchanged,
      promise: promiseOf(own),
      mismatch: [
        lenses.filter(({ lens, order }) => differs(lens.lens, order.specification)).length,
        lenses.length,
      ] as Count,
      exchange: [exchanged.length, used.length] as Count,
    };
  });
  const overall = {
    promiseKept: pooled(counted.map(({ promise }) => promise)),
    labelMismatch: pooled(counted.map(({ mismatch }) => mismatch)),
    exchanged: pooled(counted.map(({ exchange }) => exchange)),
  };
  return {
    overall,
    ...sentBetween(orders),
    items: counted.map(({ maker, own, promise, mismatch, exchange, exchanged }): MakerScorecard => ({
      id: maker.id,
      name: maker.name,
      sent: own.length,
      arrived: own.filter(({ arrivedAt }) => arrivedAt !== null).length,
      ...sentBetween(own),
      leadTimes: leadCurve(
        own.flatMap((order) => {
          const record = recordOf(order, makerCalendarOf(maker), today);
          return record === null ? [] : [{ quotedDays: order.quotedDays, record }];
        }),
      ),
      promiseKept: funnel(promise, overall.promiseKept),
      labelMismatch: funnel(mismatch, overall.labelMismatch),
      exchanged: funnel(exchange, overall.exchanged),
      exchangeReasons: tally(exchanged, exchange[1]),
      creditsOutstanding: owed(
        credits.filter(({ makerId }) => makerId === maker.id),
        today,
      ),
    })),
  };
}

function promiseOf(orders: readonly OrderRow[]): Count {
  const promised = orders.flatMap(({ firstPromisedOn, arrivedAt }) =>
    firstPromisedOn === null || arrivedAt === null ? [] : [{ firstPromisedOn, arrivedAt }],
  );
  const kept = promised.filter(
    ({ firstPromisedOn, arrivedAt }) => fromDate(arrivedAt) <= fromDate(firstPromisedOn),
  );
  return [kept.length, promised.length];
}

/** Whether the label says another lens than was ordered. */
function differs(label: unknown, specification: unknown): boolean {
  const [said, wanted] = [label, specification] as Record<string, unknown>[];
  // A field that nobody read says nothing about the maker.
  return ['eye', 'sphereD', 'cylinderD', 'axisDeg', 'lengthMm'].some(
    (field) => (said?.[field] ?? null) !== null && said?.[field] !== wanted?.[field],
  );
}

function pooled(counts: readonly Count[]): Share | null {
  const [count, n] = counts.reduce<Count>(([c, all], [own, of]) => [c + own, all + of], [0, 0]);
  return n === 0 ? null : wilsonInterval(count, n);
}

function funnel([count, n]: Count, overall: Share | null): FunnelPoint {
  if (n === 0 || overall === null)
    return { share: null, limits95: null, limits998: null, standing: 'too-few' };
  const share = wilsonInterval(count, n);
  const limits95 = funnelLimits(overall.share, n, 0.95);
  const limits998 = funnelLimits(overall.share, n, 0.998);
  const outside = ([low, high]: readonly [number, number]): boolean =>
    share.share < low || share.share > high;
  const standing =
    n < LEAST ? 'too-few' : outside(limits998) ? 'outside-998' : outside(limits95) ? 'outside-95' : 'within';
  return { share, limits95, limits998, standing };
}

function sentBetween(orders: readonly OrderRow[]): Pick<MakerScorecard, 'sentFrom' | 'sentTo'> {
  const days = orders.flatMap(({ sentAt }) => (sentAt === null ? [] : [fromDate(sentAt)])).sort();
  return { sentFrom: days[0] ?? null, sentTo: days.at(-1) ?? null };
}

/** Exchanges by reason, of the lenses that were implanted; the commonest first. */
function tally(reasons: readonly string[], implanted: number): MakerScorecard['exchangeReasons'] {
  const counts = new Map<string, number>();
  for (const reason of reasons) counts.set(reason, (counts.get(reason) ?? 0) + 1);
  return [...counts]
    .sort(([a, n], [b, m]) => m - n || a.localeCompare(b))
    .map(([reason, n]) => ({ reason, share: wilsonInterval(n, implanted) }));
}

interface Owed {
  readonly currency: string;
  readonly creditExpected: Prisma.Decimal;
  readonly openedAt: Date;
}

/** What a maker still owes in its own currency, and for how long the oldest of it has been open. */
function owed(returns: readonly Owed[], today: string): MakerScorecard['creditsOutstanding'] {
  return [...new Set(returns.map(({ currency }) => currency))].sort().map((currency) => {
    const own = returns.filter((one) => one.currency === currency);
    const cents = own.reduce((sum, { creditExpected }) => sum + Math.round(Number(creditExpected) * 100), 0);
    const ages = own.map(({ openedAt }) => Math.max(0, daysBetween(fromDate(openedAt), today)));
    return {
      currency,
      amount: (cents / 100).toFixed(2),
      n: own.length,
      oldestDays: Math.max(...ages),
    };
  });
}
