import { CalculationError, requireNumber } from '../calculation-error.js';
import { logGamma } from '../outcomes/distributions.js';
import { cholesky, logDeterminant, solveLower, solveSymmetric } from './cholesky.js';
import type { RegressionSums } from './regression-sums.js';

/**
 * What is believed before any eye: coefficients normal about `mean` with covariance σ² `precision`⁻¹,
 * and σ² inverse-gamma with `shape` and `rate`.
 */
export interface RegressionBelief {
  readonly mean: readonly number[];
  readonly precision: readonly (readonly number[])[];
  readonly shape: number;
  readonly rate: number;
}

/** What is believed after the eyes that the sums are of. */
export interface LearnedRegression extends RegressionBelief {
  readonly n: number;
  /** Lower triangle of the precision, for predictions. */
  readonly lower: readonly (readonly number[])[];
  /** Logarithm of the chance density of what was measured, given the first belief: compares models. */
  readonly logEvidence: number;
}

/** A prediction: Student's t about `mean`, with this scale and so many degrees of freedom. */
export interface StudentPrediction {
  readonly mean: number;
  readonly scale: number;
  readonly degreesOfFreedom: number;
}

/**
 * Updates a belief about a normal linear model by sums of rows; the order of rows never matters.
 * Throws CalculationError for a belief that cannot be one, or sums of another width.
 * @source conjugate normal-inverse-gamma model: Gelman et al., Bayesian Data Analysis, 3rd ed., ch. 14 (from memory)
 * @example learnRegression(belief, regressionSums(2, rows)).mean
 */
export function learnRegression(before: RegressionBelief, sums: RegressionSums): LearnedRegression {
  requireNumber('belief.shape', before.shape, { min: 1e-6, max: 1e9, unit: '' });
  requireNumber('belief.rate', before.rate, { min: 1e-12, max: 1e15, unit: '' });
  const width = before.mean.length;
  if (sums.xy.length !== width) {
    throw new CalculationError('input.contradiction', 'sums.xy', sums.xy, `a list of ${width} numbers`);
  }
  const prior = triangle(before.precision);
  const precision = before.precision.map((row, i) =>
    row.map((value, j) => value + (sums.xx[i]?.[j] as number)),
  );
  const lower = triangle(precision);
  const pull = times(before.precision, before.mean);
  const mean = solveSymmetric(
    lower,
    pull.map((value, i) => value + (sums.xy[i] as number)),
  );
  const shape = before.shape + sums.n / 2;
  const left = sums.yy + dot(before.mean, pull) - dot(mean, times(precision, mean));
  // Rounding may leave a perfect fit a hair below nothing.
  const rate = before.rate + Math.max(0, left) / 2;
  const logEvidence =
    (logDeterminant(prior) - logDeterminant(lower)) / 2 +
    before.shape * Math.log(before.rate) -
    shape * Math.log(rate) +
    logGamma(shape) -
    logGamma(before.shape) -
    (sums.n / 2) * Math.log(2 * Math.PI);
  return { mean, precision, shape, rate, n: sums.n, lower, logEvidence };
}

/**
 * The prediction for inputs `x`; `extraVariance` is added in units of σ² (an effect that is not among the
 * inputs). Throws CalculationError for inputs of another width or a negative variance.
 * @source Gelman et al., Bayesian Data Analysis, 3rd ed., ch. 14 (from memory)
 * @example predictRegression(learned, [1, 0.4]).mean
 */
export function predictRegression(
  learned: LearnedRegression,
  x: readonly number[],
  extraVariance = 0,
): StudentPrediction {
  requireNumber('extraVariance', extraVariance, { min: 0, max: 1e9, unit: '' });
  if (x.length !== learned.mean.length || x.some((value) => !Number.isFinite(value))) {
    throw new CalculationError('input.wrong-type', 'x', x, `a list of ${learned.mean.length} numbers`);
  }
  const z = solveLower(learned.lower, x);
  return {
    mean: dot(learned.mean, x),
    scale: Math.sqrt((learned.rate / learned.shape) * (1 + dot(z, z) + extraVariance)),
    degreesOfFreedom: 2 * learned.shape,
  };
}

/** Standard deviations of the coefficients (posterior). */
export function coefficientSds(learned: LearnedRegression): number[] {
  const variance = learned.rate / Math.max(learned.shape - 1, 0.5);
  return learned.mean.map((_, i) => {
    const z = solveLower(
      learned.lower,
      learned.mean.map((_unused, j) => (i === j ? 1 : 0)),
    );
    return Math.sqrt(variance * dot(z, z));
  });
}

function triangle(precision: readonly (readonly number[])[]): number[][] {
  const lower = cholesky(precision);
  if (lower !== null) return lower;
  throw new CalculationError(
    'input.contradiction',
    'belief.precision',
    precision,
    'a symmetric positive definite matrix',
  );
}

const dot = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, value, i) => sum + value * (b[i] as number), 0);

const times = (matrix: readonly (readonly number[])[], x: readonly number[]): number[] =>
  matrix.map((row) => dot(row, x));
