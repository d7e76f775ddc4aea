import { CalculationError } from '../calculation-error.js';
import type { MutablePowerVector } from './types.js';

/** Below this the divisor of a step is taken as none: the next plane lies in a focus. */
export const NEAR_FOCUS = 1e-9;

/**
 * Moves a vergence by the reduced distance `a` (metres divided by the index) in place: the matrix
 * step V (I - aV)⁻¹, written for the three numbers of a symmetric matrix. With D = det V the
 * inverse is (I - a adj V) / q, q = 1 - 2aM + a²D, so M' = (M - aD)/q, J0' = J0/q, J45' = J45/q.
 * A negative `a` steps back. Throws when the light has a focus on the way.
 * @source Long 1976; Keating 1981 (matrix step); the closed form by Cayley-Hamilton, own derivation
 */
export function stepAlong(vector: MutablePowerVector, a: number, field: string): void {
  const { meanD, j0D, j45D } = vector;
  const det = meanD * meanD - j0D * j0D - j45D * j45D;
  const q = 1 - 2 * a * meanD + a * a * det;
  // Both principal meridians must stay in front of their focus: 1 - aλ > 0 for both λ.
  if (!(q > NEAR_FOCUS && 1 - a * meanD > 0)) throw noImage(field, meanD);
  vector.meanD = (meanD - a * det) / q;
  vector.j0D = j0D / q;
  vector.j45D = j45D / q;
}

/** The refusal of light that comes to a focus before it reaches the next plane. */
export function noImage(field: string, meanD: number): CalculationError {
  return new CalculationError(
    'optics.no-image',
    field,
    meanD,
    'a power whose focus lies beyond the next plane',
    `${field} brings light of ${meanD.toFixed(2)} D to a focus before it reaches the next plane, so no power can be computed; check power, vertex distance and depth.`,
  );
}
