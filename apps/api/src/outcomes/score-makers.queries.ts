import { arrivalQuantile, funnelLimits, productLimit, wilsonInterval } from '@lensferry/calculation';
import type { FunnelPoint, MakerScorecard, MakerScorecards, Share } from '@lensferry/contracts';
import { makerCalendarOf } from '../leadtimes/calendars.js';
import { recordOf } from '../leadtimes/lead-time-history.queries.js';
import { fromDate } from '../platform/plain-date.js';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';

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
  const sent = orders.flatMap(({ sentAt }) => (sentAt === null ? [] : [fromDate(sentAt)])).sort();
  return {
    overall,
    sentFrom: sent[0] ?? null,
    sentTo: sent.at(-1) ?? null,
    items: counted.map(({ maker, own, promise, mismatch, exchange, exchanged }): MakerScorecard => ({
      id: maker.id,
      name: maker.name,
      sent: own.length,
      arrived: own.filter(({ arrivedAt }) => arrivedAt !== null).length,
      leadDays: leadDays(own.flatMap((order) => recordOf(order, makerCalendarOf(maker), today) ?? [])),
      promiseKept: funnel(promise, overall.promiseKept),
      labelMismatch: funnel(mismatch, overall.labelMismatch),
      exchanged: funnel(exchange, overall.exchanged),
      exchangeReasons: tally(exchanged),
      creditsOutstanding: owed(credits.filter(({ makerId }) => makerId === maker.id)),
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

function leadDays(records: Parameters<typeof productLimit>[0]): MakerScorecard['leadDays'] {
  if (records.length === 0) return { p10: null, p50: null, p90: null };
  const curve = productLimit(records);
  const at = (p: number): number | null => arrivalQuantile(curve, p);
  return { p10: at(0.1), p50: at(0.5), p90: at(0.9) };
}

function tally(reasons: readonly string[]): { reason: string; n: number }[] {
  const counts = new Map<string, number>();
  for (const reason of reasons) counts.set(reason, (counts.get(reason) ?? 0) + 1);
  return [...counts].map(([reason, n]) => ({ reason, n })).sort((a, b) => b.n - a.n);
}

function owed(returns: readonly { currency: string; creditExpected: Prisma.Decimal }[]) {
  return [...new Set(returns.map(({ currency }) => currency))].sort().map((currency) => {
    const own = returns.filter((one) => one.currency === currency);
    const cents = own.reduce((sum, { creditExpected }) => sum + Math.round(Number(creditExpected) * 100), 0);
    return { currency, amount: (cents / 100).toFixed(2), n: own.length };
  });
}
