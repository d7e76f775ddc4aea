import { CalculationError, requireNumber } from '../calculation-error.js';
import { meanOf, requireSample } from './describe-sample.js';
import { studentQuantile, studentTwoSided } from './distributions.js';

/** A straight line through attempted and achieved, with what it leaves unexplained. */
export interface LinearRegression {
  readonly n: number;
  readonly slope: number;
  readonly intercept: number;
  readonly slopeStandardError: number;
  readonly interceptStandardError: number;
  /** Limits of the slope at the level asked for. */
  readonly slopeLow: number;
  readonly slopeHigh: number;
  /** p value of the slope against 0 (t test). */
  readonly slopeP: number;
  /** Share of the variance that the line explains; 0 when y does not vary. */
  readonly rSquared: number;
  readonly residualSd: number;
  /** Height of the line at x, limits of its mean, and limits of a single new eye. */
  at(x: number): { estimate: number; meanLow: number; meanHigh: number; eyeLow: number; eyeHigh: number };
}

/**
 * Ordinary least squares of y on x. At least three points with two different x.
 * Throws CalculationError otherwise, or when a value is not finite.
 */
export function linearRegression(
  points: readonly { readonly x: number; readonly y: number }[],
  level = 0.95,
): LinearRegression {
  requireNumber('level', level, { min: 0.5, max: 0.9999, unit: '' });
  const xs = points.map(({ x }) => x);
  const ys = points.map(({ y }) => y);
  requireSample('x', xs, 3);
  requireSample('y', ys, 3);
  const n = points.length;
  const [meanX, meanY] = [meanOf(xs), meanOf(ys)];
  let [sxx, sxy, syy] = [0, 0, 0];
  for (const { x, y } of points) {
    sxx += (x - meanX) ** 2;
    sxy += (x - meanX) * (y - meanY);
    syy += (y - meanY) ** 2;
  }
  if (sxx === 0)
    throw new CalculationError('input.contradiction', 'x', meanX, 'at least two different values');
  const slope = sxy / sxx;
  const intercept = meanY - slope * meanX;
  const left = points.reduce((sum, { x, y }) => sum + (y - intercept - slope * x) ** 2, 0);
  const residualSd = Math.sqrt(left / (n - 2));
  const slopeStandardError = residualSd / Math.sqrt(sxx);
  const t = studentQuantile((1 + level) / 2, n - 2);
  // A perfect line has no error to divide by: its slope is certain.
  const slopeP =
    slope === 0 ? 1 : slopeStandardError === 0 ? 0 : studentTwoSided(slope / slopeStandardError, n - 2);
  return {
    n,
    slope,
    intercept,
    slopeStandardError,
    interceptStandardError: residualSd * Math.sqrt(1 / n + meanX ** 2 / sxx),
    slopeLow: slope - t * slopeStandardError,
    slopeHigh: slope + t * slopeStandardError,
    slopeP,
    rSquared: syy === 0 ? 0 : (sxy * sxy) / (sxx * syy),
    residualSd,
    at(x) {
      requireSample('x', [x], 1);
      const estimate = intercept + slope * x;
      const lever = 1 / n + (x - meanX) ** 2 / sxx;
      const [mean, eye] = [t * residualSd * Math.sqrt(lever), t * residualSd * Math.sqrt(1 + lever)];
      return {
        estimate,
        meanLow: estimate - mean,
        meanHigh: estimate + mean,
        eyeLow: estimate - eye,
        eyeHigh: estimate + eye,
      };
    },
  };
}
