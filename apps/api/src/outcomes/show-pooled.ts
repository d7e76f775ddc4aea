import { arrivalQuantile, productLimit, studentQuantile, wilsonInterval } from '@lensferry/calculation';
import type { Estimate, PooledOutcomes } from '@lensferry/contracts';
import { plusDays } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import { readOperatedEyes } from './operated-eyes.queries.js';
import { poolParts, WEEK_DAYS, WEEKS } from './pool-parts.js';
import { readPool, type PoolKind } from './pool.store.js';

type Measure = PooledOutcomes['rows'][number]['measure'];
type Sums = readonly number[];
interface Asked {
  readonly measure: Measure;
  readonly kind: PoolKind;
  readonly estimate: (sums: Sums) => Estimate | null;
}

const at = (sums: Sums, place: number): number => sums[place] ?? 0;
const share =
  (count: number, of: number) =>
  (sums: Sums): Estimate | null => {
    if (at(sums, of) === 0) return null;
    const { n, share: estimate, low, high } = wilsonInterval(at(sums, count), at(sums, of));
    return { n, estimate, low, high };
  };
/** Mean with its 95 % limits by Student's t, from count, sum and sum of squares. */
const mean =
  (count: number, sum: number, squares: number) =>
  (sums: Sums): Estimate | null => {
    const n = at(sums, count);
    if (n < 2) return null;
    const estimate = at(sums, sum) / n;
    const variance = Math.max(0, (at(sums, squares) - n * estimate * estimate) / (n - 1));
    const reach = studentQuantile(0.975, n - 1) * Math.sqrt(variance / n);
    return { n, estimate, low: estimate - reach, high: estimate + reach };
  };

/** The product-limit median by working weeks, and the days by which 10 and 90 % had come. */
function medianDays(sums: Sums): Estimate | null {
  const records = (['arrived', 'open'] as const).flatMap((outcome, side) =>
    Array.from({ length: WEEKS }, (_, week) =>
      Array.from({ length: Math.round(at(sums, 2 + side * WEEKS + week)) }, () => ({
        workingDays: WEEK_DAYS * (week + 1),
        outcome,
      })),
    ).flat(),
  );
  if (records.length === 0) return null;
  const curve = productLimit(records);
  const [low, estimate, high] = [0.1, 0.5, 0.9].map((p) => arrivalQuantile(curve, p));
  return low == null || estimate == null || high == null ? null : { n: records.length, estimate, low, high };
}

const asked: readonly Asked[] = [
  { measure: 'withinHalfD', kind: 'results', estimate: share(1, 0) },
  { measure: 'withinOneD', kind: 'results', estimate: share(2, 0) },
  { measure: 'lostALine', kind: 'results', estimate: share(6, 5) },
  { measure: 'meanErrorD', kind: 'results', estimate: mean(0, 3, 4) },
  { measure: 'offsetD', kind: 'refraction', estimate: mean(0, 1, 2) },
  { measure: 'promiseKept', kind: 'lead_time', estimate: share(1, 0) },
  { measure: 'medianDays', kind: 'lead_time', estimate: medianDays },
];

/** What one's own clinics found beside what all others found together. */
export async function showPooled(work: Work): Promise<PooledOutcomes> {
  const tomorrow = plusDays(work.now.toISOString().slice(0, 10), 1);
  const own = await poolParts(work, await readOperatedEyes(work), tomorrow);
  const makers = new Map((await work.tx.maker.findMany()).map(({ code, name }) => [code, name]));
  const pools = new Map<PoolKind, Awaited<ReturnType<typeof readPool>>>();
  for (const kind of ['results', 'refraction', 'lead_time'] as const)
    pools.set(kind, await readPool(work, kind));
  const rows = asked.flatMap(({ measure, kind, estimate }) => {
    const mine = own.filter((part) => part.kind === kind);
    const theirs = pools.get(kind) ?? [];
    return [...new Set([...mine, ...theirs].map(({ of }) => of))].sort().map((of) => {
      const part = mine.find((one) => one.of === of);
      const pool = theirs.find((one) => one.of === of);
      const found = pool === undefined ? null : estimate(pool.sums);
      return {
        measure,
        of: of === 'all' ? null : (makers.get(of) ?? of),
        own: part === undefined ? null : estimate(part.sums),
        others:
          pool === undefined || found === null
            ? null
            : { ...found, clinics: pool.clinics, asOf: pool.oldest },
      };
    });
  });
  return {
    rows,
    note: 'Eyes count from day 28 on. Other clinics give sums as of the first of a month, each of five patients or more; two clinics at least, none with more than four fifths of the eyes.',
  };
}
