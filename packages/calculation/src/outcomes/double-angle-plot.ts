import { CalculationError, requireNumber } from '../calculation-error.js';
import { doubleAngle, fromDoubleAngle, type Astigmatism } from './vector-analysis.js';

/** An ellipse in double-angle space: half axes in dioptres, and the turn of the longer one from the x axis. */
export interface DoubleAngleEllipse {
  readonly halfLongD: number;
  readonly halfShortD: number;
  readonly turnDeg: number;
}

/** What a double-angle plot of many eyes shows. */
export interface DoubleAngleSummary {
  readonly n: number;
  readonly centroid: Astigmatism;
  readonly centroidX: number;
  readonly centroidY: number;
  /** Standard deviations along both axes of the plot, in dioptres. */
  readonly sdX: number;
  readonly sdY: number;
  /** Mean and standard deviation of the magnitudes alone. */
  readonly meanMagnitudeD: number;
  readonly sdMagnitudeD: number;
  /** Holds the share `level` of eyes, if they scatter normally. */
  readonly spread: DoubleAngleEllipse;
  /** Holds the true centroid with the chance `level` (Hotelling). */
  readonly ofCentroid: DoubleAngleEllipse;
}

/**
 * Centroid and ellipses of astigmatisms in double-angle space. At least three eyes.
 * Throws CalculationError when there are fewer.
 * @source Abulafia, Koch, Holladay, Wang & Hill. J Cataract Refract Surg 2018;44:1169-1174 (double-angle plot);
 *   Hotelling. Ann Math Stat 1931;2:360-378
 */
export function summariseDoubleAngle(eyes: readonly Astigmatism[], level = 0.95): DoubleAngleSummary {
  requireNumber('level', level, { min: 0.5, max: 0.999, unit: '' });
  const n = eyes.length;
  if (n < 3) throw new CalculationError('input.missing', 'eyes', n, 'at least three eyes');
  const points = eyes.map(doubleAngle);
  const centroidX = points.reduce((sum, { x }) => sum + x, 0) / n;
  const centroidY = points.reduce((sum, { y }) => sum + y, 0) / n;
  let [xx, xy, yy] = [0, 0, 0];
  for (const { x, y } of points) {
    xx += (x - centroidX) ** 2 / (n - 1);
    xy += ((x - centroidX) * (y - centroidY)) / (n - 1);
    yy += (y - centroidY) ** 2 / (n - 1);
  }
  const meanMagnitudeD = eyes.reduce((sum, { magnitudeD }) => sum + magnitudeD, 0) / n;
  const squares = eyes.reduce((sum, { magnitudeD }) => sum + (magnitudeD - meanMagnitudeD) ** 2, 0);
  // With two dimensions both quantiles have a closed form: chi-square with 2 and F with 2 and n - 2 degrees.
  const chiSquare = -2 * Math.log(1 - level);
  const f = ((n - 2) / 2) * ((1 - level) ** (-2 / (n - 2)) - 1);
  const hotelling = (2 * (n - 1) * f) / (n * (n - 2));
  return {
    n,
    centroid: fromDoubleAngle({ x: centroidX, y: centroidY }),
    centroidX,
    centroidY,
    sdX: Math.sqrt(xx),
    sdY: Math.sqrt(yy),
    meanMagnitudeD,
    sdMagnitudeD: Math.sqrt(squares / (n - 1)),
    spread: ellipse(xx, xy, yy, chiSquare),
    ofCentroid: ellipse(xx, xy, yy, hotelling),
  };
}

function ellipse(xx: number, xy: number, yy: number, scale: number): DoubleAngleEllipse {
  const middle = (xx + yy) / 2;
  const reach = Math.hypot((xx - yy) / 2, xy);
  return {
    halfLongD: Math.sqrt(scale * (middle + reach)),
    halfShortD: Math.sqrt(scale * Math.max(0, middle - reach)),
    turnDeg: reach === 0 ? 0 : (Math.atan2(2 * xy, xx - yy) * 90) / Math.PI,
  };
}
