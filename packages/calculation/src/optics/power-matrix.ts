import { requireNumber } from '../calculation-error.js';
import { emptyVector, fromComponents, writeVectorOf } from './power-vector.js';
import { ANY_POWER, requireSphereCylinder } from './ranges.js';
import type { SphereCylinder } from './types.js';

/** A symmetric 2x2 dioptric power matrix [[xx, xy], [xy, yy]], each entry in dioptres. */
export interface PowerMatrix {
  readonly xxD: number;
  readonly xyD: number;
  readonly yyD: number;
}

/**
 * The dioptric power matrix of a sphero-cylinder in either form:
 * [[S + C sin²A, -C sinA cosA], [-C sinA cosA, S + C cos²A]].
 * Throws CalculationError for a number that is not finite or an axis outside 0 to 180.
 * @source Long. Am J Optom Physiol Opt 1976;53:27-33
 * @example powerMatrix({ sphereD: -2, cylinderD: -1, axisDeg: 0 }) // xx -2, xy 0, yy -3
 */
export function powerMatrix(value: SphereCylinder): PowerMatrix {
  requireSphereCylinder('', value);
  const v = writeVectorOf(value, emptyVector());
  return { xxD: v.meanD + v.j0D, xyD: v.j45D, yyD: v.meanD - v.j0D };
}

/**
 * The sphero-cylinder of a dioptric power matrix, in minus form with 0 ≤ axis < 180.
 * Throws CalculationError for an entry that is not finite.
 * @source Keating. Am J Optom Physiol Opt 1980;57:394-400
 * @example fromPowerMatrix({ xxD: -2, xyD: 0, yyD: -3 }) // -2.00 / -1.00 x 0
 */
export function fromPowerMatrix(matrix: PowerMatrix): SphereCylinder {
  requireNumber('xxD', matrix.xxD, ANY_POWER);
  requireNumber('xyD', matrix.xyD, ANY_POWER);
  requireNumber('yyD', matrix.yyD, ANY_POWER);
  return fromComponents((matrix.xxD + matrix.yyD) / 2, (matrix.xxD - matrix.yyD) / 2, matrix.xyD);
}
