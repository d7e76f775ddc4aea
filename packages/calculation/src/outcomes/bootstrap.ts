import { CalculationError, requireNumber } from '../calculation-error.js';
import { normalBelow, normalQuantile } from '../uncertainty/normal.js';
import { sortedQuantile } from './describe-sample.js';

/** A statistic with its bootstrap interval. */
export interface BootstrapInterval {
  readonly n: number;
  readonly estimate: number;
  readonly low: number;
  readonly high: number;
}

/** How to resample. */
export interface BootstrapOptions {
  /** 0.95 when left out. */
  readonly level?: number | undefined;
  /** 200 to 100 000; 2000 when left out. */
  readonly resamples?: number | undefined;
  /** The same seed always gives the same interval; 1 when left out. */
  readonly seed?: number | undefined;
}

function seeded(seed: number): () => number {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/**
 * Bias-corrected and accelerated bootstrap interval of any statistic of a sample (two items or more; an item
 * may be a pair). `statistic` must return a finite number for every resample.
 * Throws CalculationError when it does not, or the sample is too small.
 * @source Efron. J Am Stat Assoc 1987;82:171-185
 */
export function bootstrapInterval<Item>(
  sample: readonly Item[],
  statistic: (items: readonly Item[]) => number,
  options: BootstrapOptions = {},
): BootstrapInterval {
  const level = requireNumber('level', options.level ?? 0.95, { min: 0.5, max: 0.999, unit: '' });
  const resamples = requireNumber('resamples', options.resamples ?? 2000, {
    min: 200,
    max: 100_000,
    unit: '',
  });
  const next = seeded(requireNumber('seed', options.seed ?? 1, { min: 0, max: 2 ** 32 - 1, unit: '' }));
  const n = sample.length;
  if (n < 2) throw new CalculationError('input.missing', 'sample', n, 'at least two items');
  const take = (items: readonly Item[]): number => {
    const value = statistic(items);
    if (Number.isFinite(value)) return value;
    throw new CalculationError(
      'input.not-a-number',
      'statistic',
      value,
      'a finite number for every resample',
    );
  };
  const estimate = take(sample);
  const drawn: number[] = [];
  // One list for all resamples: a new one each time would be most of the work.
  const items = [...sample];
  for (let b = 0; b < resamples; b += 1) {
    for (let i = 0; i < n; i += 1) items[i] = sample[Math.floor(next() * n)] as Item;
    drawn.push(take(items));
  }
  drawn.sort((x, y) => x - y);
  const below =
    drawn.filter((value) => value < estimate).length + drawn.filter((value) => value === estimate).length / 2;
  // All resamples on one side leave no bias to correct for.
  const bias = below > 0 && below < resamples ? normalQuantile(below / resamples) : 0;
  const acceleration = accelerationOf(sample, take);
  const at = (p: number): number => {
    const z = bias + normalQuantile(p);
    return sortedQuantile(drawn, normalBelow(bias + z / (1 - acceleration * z)));
  };
  return { n, estimate, low: at((1 - level) / 2), high: at((1 + level) / 2) };
}

/** Most jackknife samples that are taken. */
const MOST_LEFT_OUT = 400;

function accelerationOf<Item>(sample: readonly Item[], take: (items: readonly Item[]) => number): number {
  // A jackknife of one item has no statistic worth the name for some statistics.
  if (sample.length < 3) return 0;
  // Large samples leave out groups: the acceleration is the same to first order, the work is not.
  const size = Math.ceil(sample.length / MOST_LEFT_OUT);
  const without: number[] = [];
  for (let from = 0; from < sample.length; from += size) {
    without.push(take([...sample.slice(0, from), ...sample.slice(from + size)]));
  }
  const mean = without.reduce((sum, value) => sum + value, 0) / without.length;
  let [squares, cubes] = [0, 0];
  for (const value of without) {
    squares += (mean - value) ** 2;
    cubes += (mean - value) ** 3;
  }
  return squares === 0 ? 0 : cubes / (6 * squares ** 1.5);
}
