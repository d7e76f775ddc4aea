import { requireNumber, type NumberRange } from '../calculation-error.js';
import { emptyVector, fromVector, writeVectorOf } from './power-vector.js';
import { requireSphereCylinder } from './ranges.js';
import { stepAlong } from './step-along.js';
import type { SphereCylinder } from './types.js';

const STEP_MM: NumberRange = { min: -50, max: 50, unit: 'mm' };

/**
 * The same refraction referred to another plane: R / (1 - vR) in each meridian, by matrices for
 * oblique cylinders, in minus form. Positive millimetres go toward the eye (spectacles to cornea),
 * negative away from it. Throws CalculationError when a focus lies on the way.
 * @source Holladay. Am J Ophthalmol 1993;116:63-66 (scalar form); Long 1976 (matrix form)
 * @example vertexStep({ sphereD: -8, cylinderD: -4, axisDeg: 30 }, 12) // -7.299 / -3.190 x 30
 */
export function vertexStep(refraction: SphereCylinder, towardEyeMm: number): SphereCylinder {
  requireSphereCylinder('refraction', refraction);
  requireNumber('towardEyeMm', towardEyeMm, STEP_MM);
  const v = writeVectorOf(refraction, emptyVector());
  stepAlong(v, towardEyeMm / 1000, 'refraction');
  return fromVector(v);
}
