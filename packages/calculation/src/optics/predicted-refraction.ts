import { requireNumber } from '../calculation-error.js';
import { backToSpectacles, emptyOptics, writeOptics } from './eye-optics.js';
import { emptyVector, fromComponents, writeVector } from './power-vector.js';
import { OPTICS_RANGES, requireSphereCylinder } from './ranges.js';
import type { PhakicEye, SphereCylinder } from './types.js';

const scratch = emptyOptics();
const lensVector = emptyVector();

/**
 * The refraction that a lens leaves, at the spectacle plane of the eye's own refraction, in minus
 * form. The lens sits at `implantedAxisDeg`, or at its own axis when that is left out.
 * Throws CalculationError naming field, value and range for input that cannot be.
 * @source the same vergence steps as `idealLens`, solved for the refraction
 * @example predictedRefraction(eye, { sphereD: -9, cylinderD: -4.5, axisDeg: 30 }) // +0.427 / -0.365 x 115.2
 */
export function predictedRefraction(
  eye: PhakicEye,
  lens: SphereCylinder,
  implantedAxisDeg: number = lens.axisDeg,
): SphereCylinder {
  const optics = writeOptics(eye, scratch);
  requireSphereCylinder('lens', lens, OPTICS_RANGES.sphereD, OPTICS_RANGES.cylinderD);
  requireNumber('implantedAxisDeg', implantedAxisDeg, OPTICS_RANGES.axisDeg);
  writeVector(lens.sphereD, lens.cylinderD, implantedAxisDeg, lensVector);
  const left = optics.needed;
  left.meanD -= lensVector.meanD;
  left.j0D -= lensVector.j0D;
  left.j45D -= lensVector.j45D;
  backToSpectacles(left, optics, 'lens');
  return fromComponents(left.meanD, left.j0D, left.j45D);
}
