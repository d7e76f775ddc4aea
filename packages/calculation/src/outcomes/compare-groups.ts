import { linesGained } from '../acuity/acuity.js';
import { bootstrapInterval } from './bootstrap.js';
import { welchTest } from './compare-means.js';
import { mannWhitneyTest } from './compare-ranks.js';
import { fisherExactTest } from './compare-shares.js';
import { describeSample, meanOf } from './describe-sample.js';
import { latestVaultUm } from './outcome-report.js';
import type { JudgedEye } from './outcome-eye.js';
import { wilsonInterval } from './wilson.js';

/** One measure of one group with its 95 % interval. */
export interface GroupEstimate {
  readonly n: number;
  readonly estimate: number;
  readonly low: number;
  readonly high: number;
}

/** One measure of two groups and the test whether they differ. */
export interface GroupComparison {
  readonly measure:
    | 'within-half'
    | 'within-one'
    | 'lost-a-line'
    | 'unaided-as-spectacles'
    | 'absolute-error'
    | 'cylinder-left'
    | 'uncorrected-acuity'
    | 'lines-gained'
    | 'vault'
    | 'vault-intended';
  readonly unit: 'share' | 'D' | 'logMAR' | 'lines' | 'µm';
  readonly statistic: 'share' | 'median' | 'mean';
  readonly test: string;
  readonly p: number;
  readonly first: GroupEstimate;
  readonly second: GroupEstimate;
}

interface Measure {
  readonly name: GroupComparison['measure'];
  readonly unit: GroupComparison['unit'];
  readonly statistic: GroupComparison['statistic'];
  /** The value of one eye; a share counts 1 and 0. Null where the eye has none. */
  readonly of: (eye: JudgedEye) => number | null;
}

const yes = (value: boolean): number => Number(value);
const lines = ({ eye, visit }: JudgedEye, after: 'correctedLogMar' | 'uncorrectedLogMar'): number | null => {
  const [before, now] = [eye.before.correctedLogMar, visit[after]];
  return before === undefined || now === undefined ? null : linesGained(before, now);
};
const orNull = (value: number | null, then: (known: number) => number): number | null =>
  value === null ? null : then(value);

/** Named beforehand, so that nobody picks the one that differs. */
const MEASURES: readonly Measure[] = [
  {
    name: 'within-half',
    unit: 'share',
    statistic: 'share',
    of: ({ errorD }) => yes(Math.abs(errorD) <= 0.5 + 1e-9),
  },
  {
    name: 'within-one',
    unit: 'share',
    statistic: 'share',
    of: ({ errorD }) => yes(Math.abs(errorD) <= 1 + 1e-9),
  },
  {
    name: 'lost-a-line',
    unit: 'share',
    statistic: 'share',
    of: (eye) => orNull(lines(eye, 'correctedLogMar'), (gain) => yes(Math.round(gain) <= -1)),
  },
  {
    name: 'unaided-as-spectacles',
    unit: 'share',
    statistic: 'share',
    of: (eye) => orNull(lines(eye, 'uncorrectedLogMar'), (gain) => yes(Math.round(gain) >= 0)),
  },
  { name: 'absolute-error', unit: 'D', statistic: 'median', of: ({ errorD }) => Math.abs(errorD) },
  { name: 'cylinder-left', unit: 'D', statistic: 'median', of: ({ cylinderAfterD }) => cylinderAfterD },
  {
    name: 'uncorrected-acuity',
    unit: 'logMAR',
    statistic: 'median',
    of: ({ visit }) => visit.uncorrectedLogMar ?? null,
  },
  { name: 'lines-gained', unit: 'lines', statistic: 'mean', of: (eye) => lines(eye, 'correctedLogMar') },
  { name: 'vault', unit: 'µm', statistic: 'mean', of: ({ eye }) => latestVaultUm(eye) },
  {
    name: 'vault-intended',
    unit: 'share',
    statistic: 'share',
    of: ({ eye }) => orNull(latestVaultUm(eye), (vaultUm) => yes(vaultUm >= 250 && vaultUm <= 750)),
  },
];

/**
 * Compares two groups measure by measure: shares by Fisher's exact test, skewed measures by Mann-Whitney, others by
 * Welch. The measures are fixed; their p values are not corrected for being several. A measure that either group
 * has in fewer than two eyes, or in which nothing varies, is left out.
 * Throws CalculationError for a number that cannot be.
 * @source Fisher 1934; Mann & Whitney 1947; Welch 1947
 * @example compareGroups(first, second).find(({ measure }) => measure === 'within-half')?.p
 */
export function compareGroups(first: readonly JudgedEye[], second: readonly JudgedEye[]): GroupComparison[] {
  return MEASURES.flatMap((measure) => {
    const [a, b] = [first, second].map((eyes) => eyes.map(measure.of).filter((value) => value !== null)) as [
      number[],
      number[],
    ];
    if (a.length < 2 || b.length < 2) return [];
    const { name, unit, statistic } = measure;
    const tested = test(statistic, a, b);
    if (tested === null) return [];
    return [
      {
        measure: name,
        unit,
        statistic,
        ...tested,
        first: estimate(statistic, a),
        second: estimate(statistic, b),
      },
    ];
  });
}

const sum = (values: readonly number[]): number => values.reduce((all, value) => all + value, 0);

function test(
  statistic: Measure['statistic'],
  a: readonly number[],
  b: readonly number[],
): { test: string; p: number } | null {
  const { test: name, p } =
    statistic === 'share'
      ? fisherExactTest({ count: sum(a), n: a.length }, { count: sum(b), n: b.length })
      : statistic === 'median'
        ? mannWhitneyTest(a, b)
        : varies(a) || varies(b)
          ? welchTest(a, b)
          : { test: null, p: 1 };
  return name === null ? null : { test: name, p };
}

const varies = (values: readonly number[]): boolean => values.some((value) => value !== values[0]);

function estimate(statistic: Measure['statistic'], values: readonly number[]): GroupEstimate {
  if (statistic === 'share') {
    const { n, share, low, high } = wilsonInterval(sum(values), values.length);
    return { n, estimate: share, low, high };
  }
  const of = statistic === 'mean' ? meanOf : (drawn: readonly number[]) => describeSample(drawn).median;
  return bootstrapInterval(values, of, { resamples: values.length > 300 ? 300 : 1000 });
}
