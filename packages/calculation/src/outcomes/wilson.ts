import { CalculationError, requireNumber } from '../calculation-error.js';
import { normalQuantile } from '../uncertainty/normal.js';

/** A share with its limits, all from 0 to 1, and the number it rests on. */
export interface Proportion {
  readonly n: number;
  readonly count: number;
  readonly share: number;
  readonly low: number;
  readonly high: number;
}

/**
 * Wilson's score interval of a share, without continuity correction. `count` may be a fraction (weights).
 * Throws CalculationError unless 0 ≤ count ≤ n and n is above 0.
 * @source Wilson. J Am Stat Assoc 1927;22:209-212
 * @example wilsonInterval(27, 30) // share 0.9, low 0.7438, high 0.9654
 */
export function wilsonInterval(count: number, n: number, level = 0.95): Proportion {
  requireNumber('n', n, { min: Number.MIN_VALUE, max: 1e12, unit: '' });
  if (!(count >= 0 && count <= n))
    throw new CalculationError('input.out-of-range', 'count', count, `from 0 to ${n}`);
  requireNumber('level', level, { min: 0.5, max: 0.999999, unit: '' });
  const z = normalQuantile((1 + level) / 2);
  const share = count / n;
  const denominator = 1 + (z * z) / n;
  const centre = (share + (z * z) / (2 * n)) / denominator;
  const reach = (z / denominator) * Math.sqrt((share * (1 - share)) / n + (z * z) / (4 * n * n));
  return {
    n,
    count,
    share,
    low: count === 0 ? 0 : centre - reach,
    high: count === n ? 1 : centre + reach,
  };
}
