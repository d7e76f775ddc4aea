import { CalculationError } from '../calculation-error.js';
import type { RegressionSums } from './regression-sums.js';

/**
 * Sums of a regression as one list of numbers, so that lists of several clinics can be added number by number:
 * n, the sum of squares of what was measured, its products with the inputs, then the inputs' products row by row. Throws nothing.
 * @source definition of the sufficient statistics of the normal linear model
 * @example flatSums(regressionSums(1, [{ x: [1], y: 5 }])) // [1, 25, 5, 1]
 */
export function flatSums({ n, xx, xy, yy }: RegressionSums): number[] {
  return [n, yy, ...xy, ...xx.flat()];
}

/**
 * The sums that a list from `flatSums`, or several added together, stands for.
 * Throws CalculationError for a list whose length fits no width, or that holds something else than finite numbers.
 * @source definition of the sufficient statistics of the normal linear model
 * @example sumsOf([1, 25, 5, 1]).xy // [5]
 */
export function sumsOf(flat: readonly number[]): RegressionSums {
  const width = Math.round((-1 + Math.sqrt(1 + 4 * (flat.length - 2))) / 2);
  if (!(width >= 1) || width * width + width + 2 !== flat.length)
    throw new CalculationError('input.wrong-type', 'flat', flat, 'a list of w² + w + 2 numbers');
  if (!flat.every((value) => Number.isFinite(value)))
    throw new CalculationError('input.not-a-number', 'flat', flat, 'finite numbers only');
  const from = 2 + width;
  return {
    n: flat[0] as number,
    yy: flat[1] as number,
    xy: flat.slice(2, from),
    xx: Array.from({ length: width }, (_, i) => flat.slice(from + i * width, from + (i + 1) * width)),
  };
}
