import { CalculationError, requireNumber } from '../calculation-error.js';
import { meanOf, requireSample, varianceOf } from './describe-sample.js';
import { studentQuantile, studentTwoSided } from './distributions.js';

/** Welch's test of two means that need not vary alike. */
export interface WelchTest {
  readonly test: "Welch's t test";
  readonly t: number;
  readonly degreesOfFreedom: number;
  readonly p: number;
  /** Mean of the first group minus mean of the second, with its limits. */
  readonly difference: number;
  readonly low: number;
  readonly high: number;
}

/**
 * Two-sided Welch test of the difference of two means. Two values or more in each group.
 * Throws CalculationError when neither group varies, because no error can then be told.
 * @source Welch. Biometrika 1947;34:28-35
 */
export function welchTest(first: readonly number[], second: readonly number[], level = 0.95): WelchTest {
  requireNumber('level', level, { min: 0.5, max: 0.9999, unit: '' });
  requireSample('first', first, 2);
  requireSample('second', second, 2);
  const [a, b] = [varianceOf(first) / first.length, varianceOf(second) / second.length];
  if (a + b === 0) {
    throw new CalculationError(
      'input.contradiction',
      'first',
      first[0],
      'groups of which at least one varies',
    );
  }
  const error = Math.sqrt(a + b);
  const degreesOfFreedom = (a + b) ** 2 / (a ** 2 / (first.length - 1) + b ** 2 / (second.length - 1));
  const difference = meanOf(first) - meanOf(second);
  const reach = studentQuantile((1 + level) / 2, degreesOfFreedom) * error;
  return {
    test: "Welch's t test",
    t: difference / error,
    degreesOfFreedom,
    p: studentTwoSided(difference / error, degreesOfFreedom),
    difference,
    low: difference - reach,
    high: difference + reach,
  };
}
