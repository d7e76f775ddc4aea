import { requireNumber } from '../calculation-error.js';
import { blurD, powerVector } from '../optics/power-vector.js';
import { subtractCrossed } from '../optics/sphere-cylinder.js';
import type { PowerVector, SphereCylinder } from '../optics/types.js';
import { normalBelow } from '../uncertainty/normal.js';
import { DEFAULT_SPREADS } from '../uncertainty/spreads.js';

/** The difference of two refractions against the noise of measuring them. */
export interface RefractionChange {
  /** Later less earlier, as a sphero-cylinder. */
  readonly difference: SphereCylinder;
  readonly vector: PowerVector;
  /** Length of the difference as a power vector, in D. */
  readonly lengthD: number;
  /** Chance, 0 to 1, that noise alone makes a difference this large. */
  readonly chanceByNoise: number;
  /** Whether that chance is below 5 %. */
  readonly beyondNoise: boolean;
  /** Smallest change of mean power that two such refractions would show 95 of 100 times, in D. */
  readonly detectableMeanD: number;
}

/**
 * Whether two refractions differ by more than their noise: the vector difference in units of its
 * own spread, as χ² with three degrees of freedom. Counts say how many readings each is the mean of.
 * Throws CalculationError naming field, value and range.
 * @source noise in keratoconus J Ophthalmol 2020;2020:4831298; Thibos & Horner 2001 (vector statistics)
 * @example refractionChange({ sphereD: -8, cylinderD: -4, axisDeg: 30 }, { sphereD: -8, cylinderD: -4, axisDeg: 35 }).beyondNoise // false
 */
export function refractionChange(
  earlier: SphereCylinder,
  later: SphereCylinder,
  noise: PowerVector = DEFAULT_SPREADS.refraction,
  counts: readonly [number, number] = [1, 1],
): RefractionChange {
  requireNoise(noise);
  const count = { min: 1, max: 100, unit: 'refractions' };
  const scale =
    1 / requireNumber('counts[0]', counts[0], count) + 1 / requireNumber('counts[1]', counts[1], count);
  const difference = subtractCrossed(later, earlier);
  const vector = powerVector(difference);
  const chiSquare =
    (vector.meanD ** 2 / noise.meanD ** 2 +
      vector.j0D ** 2 / noise.j0D ** 2 +
      vector.j45D ** 2 / noise.j45D ** 2) /
    scale;
  const chanceByNoise = chiSquare3Above(chiSquare);
  return {
    difference,
    vector,
    lengthD: blurD(vector),
    chanceByNoise,
    beyondNoise: chanceByNoise < 0.05,
    detectableMeanD: 1.96 * noise.meanD * Math.sqrt(scale),
  };
}

/**
 * Chance that χ² with three degrees of freedom exceeds a value of 0 or more.
 * Throws CalculationError for a value below 0.
 * @source closed form for three degrees of freedom, by parts from the definition
 * @example chiSquare3Above(7.815) // 0.05
 */
export function chiSquare3Above(value: number): number {
  requireNumber('chiSquare', value, { min: 0, max: Number.MAX_VALUE, unit: '' });
  const root = Math.sqrt(value);
  // The density factor underflows to 0 long before the root grows troublesome.
  const tail = value > 1400 ? 0 : root * Math.sqrt(2 / Math.PI) * Math.exp(-value / 2);
  return Math.min(1, 2 * normalBelow(-root) + tail);
}

/**
 * Throws CalculationError unless every component of the noise is above 0.
 * @source none: the house rule that impossible input is refused by name
 * @example requireNoise({ meanD: 0.65, j0D: 0.29, j45D: 0.24 })
 */
export function requireNoise(noise: PowerVector): void {
  const above0 = { min: 0.001, max: 20, unit: 'D' };
  requireNumber('noise.meanD', noise.meanD, above0);
  requireNumber('noise.j0D', noise.j0D, above0);
  requireNumber('noise.j45D', noise.j45D, above0);
}
