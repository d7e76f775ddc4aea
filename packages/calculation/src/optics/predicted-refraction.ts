import { prepareEye } from './prepared-eye.js';
import type { PhakicEye, SphereCylinder } from './types.js';

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
  implantedAxisDeg?: number,
): SphereCylinder {
  return prepareEye(eye).leaves(lens, implantedAxisDeg);
}
