import { requireNumber } from '../calculation-error.js';
import { ANY_POWER, requireSphereCylinder } from './ranges.js';
import type { MutablePowerVector, PowerVector, SphereCylinder } from './types.js';

const RADIANS_PER_DEGREE = Math.PI / 180;

/** Cylinders below this are rounding left-overs of the arithmetic: they have no axis. In dioptres. */
const NO_CYLINDER_D = 1e-9;

/**
 * The power vector of a sphero-cylinder in either form: M = S + C/2, J0 = -(C/2) cos 2A,
 * J45 = -(C/2) sin 2A, in dioptres. Throws CalculationError for a number that is not finite or an
 * axis outside 0 to 180.
 * @source Thibos, Wheeler, Horner. Optom Vis Sci 1997;74:367-375
 * @example powerVector({ sphereD: -8, cylinderD: -4, axisDeg: 30 }) // M -10, J0 1.000, J45 1.732
 */
export function powerVector(value: SphereCylinder): PowerVector {
  requireSphereCylinder('', value);
  return writeVectorOf(value, emptyVector());
}

/**
 * The sphero-cylinder of a power vector, in minus form with 0 ≤ axis < 180; a cylinder of 0 has axis 0.
 * Throws CalculationError for a component that is not finite.
 * @source Thibos, Wheeler, Horner. Optom Vis Sci 1997;74:367-375
 * @example sphereCylinder({ meanD: -10, j0D: 1, j45D: 1.732 }) // -8.00 / -4.00 x 30
 */
export function sphereCylinder(vector: PowerVector): SphereCylinder {
  requirePowerVector(vector);
  return fromVector(vector);
}

/**
 * Thibos' blur strength √(M² + J0² + J45²) in dioptres, 0 or more: the length of the power vector.
 * Throws CalculationError for a component that is not finite.
 * @source Thibos, Wheeler, Horner. Optom Vis Sci 1997;74:367-375
 * @example blurD(powerVector({ sphereD: -8, cylinderD: -4, axisDeg: 30 })) // 10.198
 */
export function blurD(vector: PowerVector): number {
  requirePowerVector(vector);
  return Math.sqrt(vector.meanD * vector.meanD + vector.j0D * vector.j0D + vector.j45D * vector.j45D);
}

/**
 * The spherical equivalent S + C/2 in dioptres, the same in both forms. Throws CalculationError for a
 * number that is not finite or an axis outside 0 to 180.
 * @source Thibos, Wheeler, Horner. Optom Vis Sci 1997;74:367-375
 * @example sphericalEquivalentD({ sphereD: -8, cylinderD: -4, axisDeg: 30 }) // -10
 */
export function sphericalEquivalentD(value: SphereCylinder): number {
  requireSphereCylinder('', value);
  return value.sphereD + value.cylinderD / 2;
}

/**
 * Brings any finite angle to the same axis with 0 ≤ axis < 180 degrees; throws CalculationError for
 * one that is not finite.
 * @source standard axis notation: 180° and 0° are one axis
 * @example normalAxisDeg(180) // 0
 */
export function normalAxisDeg(angleDeg: number): number {
  if (!Number.isFinite(angleDeg)) requireNumber('angleDeg', angleDeg, ANY_ANGLE);
  const turned = angleDeg - 180 * Math.floor(angleDeg / 180);
  // A hair below 0 or 180 is the rounding of 0.
  return turned < 0 || turned >= 180 - 1e-10 ? 0 : turned + 0;
}

/**
 * The turn in degrees that brings one axis onto another the short way: above -90, at most +90,
 * positive counter-clockwise as one faces the eye. Throws CalculationError for an angle that is not finite.
 * @source standard axis notation: counter-clockwise as one faces the eye
 * @example turnDeg(45, 30) // -15
 */
export function turnDeg(fromDeg: number, toDeg: number): number {
  requireNumber('fromDeg', fromDeg, ANY_ANGLE);
  requireNumber('toDeg', toDeg, ANY_ANGLE);
  const turn = normalAxisDeg(toDeg - fromDeg);
  return turn > 90 ? turn - 180 : turn;
}

const ANY_ANGLE = { min: -Number.MAX_VALUE, max: Number.MAX_VALUE, unit: 'degrees' };

function requirePowerVector(vector: PowerVector): void {
  requireNumber('meanD', vector.meanD, ANY_POWER);
  requireNumber('j0D', vector.j0D, ANY_POWER);
  requireNumber('j45D', vector.j45D, ANY_POWER);
}

/** A power vector of nothing, to write into. */
export function emptyVector(): MutablePowerVector {
  return { meanD: 0.5, j0D: 0.5, j45D: 0.5 };
}

const numbers = { sphereD: 0.5, cylinderD: 0.5, axisDeg: 0.5 };

/** Writes M, J0 and J45 of three numbers into `out` and returns it; checks nothing. */
export function writeVector(
  sphereD: number,
  cylinderD: number,
  axisDeg: number,
  out: MutablePowerVector,
): MutablePowerVector {
  numbers.sphereD = sphereD;
  numbers.cylinderD = cylinderD;
  numbers.axisDeg = axisDeg;
  return writeVectorOf(numbers, out);
}

/**
 * Writes M, J0 and J45 of a sphero-cylinder into `out` and returns it; checks nothing. It takes the
 * object, not its numbers: numbers handed to a function that is not inlined are boxed one by one.
 */
export function writeVectorOf(value: SphereCylinder, out: MutablePowerVector): MutablePowerVector {
  const { sphereD, cylinderD, axisDeg } = value;
  const half = cylinderD / 2;
  out.meanD = sphereD + half;
  if (half === 0) {
    out.j0D = 0;
    out.j45D = 0;
    return out;
  }
  // Whole right angles come off in degrees, where that is exact: axes of 0, 45, 90 and 135 stay pure.
  const double = 2 * axisDeg;
  const quarter = Math.round(double / 90);
  const rest = (double - 90 * quarter) * RADIANS_PER_DEGREE;
  const square = rest * rest;
  const sin = rest * sinSeries(square);
  const cos = cosSeries(square);
  const turned = quarter & 3;
  const cosDouble = turned === 0 ? cos : turned === 1 ? -sin : turned === 2 ? -cos : sin;
  const sinDouble = turned === 0 ? sin : turned === 1 ? cos : turned === 2 ? -sin : -cos;
  // Taken from 0, so that a zero comes out as a plain one.
  out.j0D = 0 - half * cosDouble;
  out.j45D = 0 - half * sinDouble;
  return out;
}

/** sin x / x from x², for |x| up to 45°: Taylor's series to x^15, off by less than 5e-17. */
function sinSeries(q: number): number {
  let sum = -1 / 1307674368000;
  sum = sum * q + 1 / 6227020800;
  sum = sum * q - 1 / 39916800;
  sum = sum * q + 1 / 362880;
  sum = sum * q - 1 / 5040;
  sum = sum * q + 1 / 120;
  sum = sum * q - 1 / 6;
  return sum * q + 1;
}

/** cos x from x², for |x| up to 45°: Taylor's series to x^16, off by less than 3e-18. */
function cosSeries(q: number): number {
  let sum = 1 / 20922789888000;
  sum = sum * q - 1 / 87178291200;
  sum = sum * q + 1 / 479001600;
  sum = sum * q - 1 / 3628800;
  sum = sum * q + 1 / 40320;
  sum = sum * q - 1 / 720;
  sum = sum * q + 1 / 24;
  sum = sum * q - 1 / 2;
  return sum * q + 1;
}

const components = emptyVector();

/** The sphero-cylinder of three components, in minus form; checks nothing. */
export function fromComponents(meanD: number, j0D: number, j45D: number): SphereCylinder {
  components.meanD = meanD;
  components.j0D = j0D;
  components.j45D = j45D;
  return fromVector(components);
}

/** The sphero-cylinder of a vector, in minus form; checks nothing. */
export function fromVector(vector: PowerVector): SphereCylinder {
  const { meanD, j0D, j45D } = vector;
  const half = Math.sqrt(j0D * j0D + j45D * j45D);
  // Adding 0 turns a negative zero into a plain one, which prints as people expect.
  if (half < NO_CYLINDER_D) return { sphereD: meanD + 0, cylinderD: 0, axisDeg: 0 };
  const axis = Math.atan2(j45D, j0D) / (2 * RADIANS_PER_DEGREE);
  // atan2 gives -90 to 90; a hair below 0 is the rounding of 0.
  const axisDeg = axis >= 0 ? axis : axis > -1e-10 ? 0 : axis + 180;
  return { sphereD: meanD + half + 0, cylinderD: -2 * half, axisDeg: axisDeg + 0 };
}
