import { emptyOptics, writeOptics } from './eye-optics.js';
import { emptyVector, fromVector } from './power-vector.js';
import type { PhakicEye, SphereCylinder } from './types.js';

// One scratch for all calls: the calculation is synchronous, and allocating would cost more than the optics.
const scratch = emptyOptics();
const lens = emptyVector();

/**
 * The toric phakic lens that takes the eye exactly to its target, unrounded, at the lens plane, in
 * minus form with 0 ≤ axis < 180: step(K + R) - step(K + T), all by dioptric power matrices.
 * Throws CalculationError naming field, value and range for input that cannot be.
 * @source van der Heijde 1988; Holladay. Am J Ophthalmol 1993;116:63-66 (scalar); Langenbucher et al.
 * Ophthalmic Physiol Opt 2007 (toric, by matrices)
 * @example idealLens({ refraction: { sphereD: -8, cylinderD: -4, axisDeg: 30, vertexMm: 12 },
 *   keratometry: { flatD: 46, steepD: 50, steepAxisDeg: 120 },
 *   anteriorChamberDepthMm: 3.1, cornealThicknessUm: 500 }) // -8.915 / -4.052 x 30
 */
export function idealLens(eye: PhakicEye): SphereCylinder {
  const { needed, wanted } = writeOptics(eye, scratch);
  lens.meanD = needed.meanD - wanted.meanD;
  lens.j0D = needed.j0D - wanted.j0D;
  lens.j45D = needed.j45D - wanted.j45D;
  return fromVector(lens);
}
