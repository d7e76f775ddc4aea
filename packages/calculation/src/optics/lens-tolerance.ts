import { requireNumber } from '../calculation-error.js';
import { ANY_POWER } from './ranges.js';

/** How far a made lens may be from its label, and how far a placed lens from its plan. */
export interface LensTolerances {
  /** Power up to `uptoD` (its strongest meridian, without sign) may be off by `toleranceD`. */
  readonly power: readonly { readonly uptoD: number; readonly toleranceD: number }[];
  /** The mark of the axis on the lens may be off by this. */
  readonly axisMarkDeg: number;
  /** Overall diameter may be off by this. */
  readonly lengthMm: number;
}

/**
 * Tolerances in general use; editions of the standard change, so they are a setting.
 * @source ISO 11979-2 and ISO 11979-10 in general words, from memory
 */
export const LENS_TOLERANCES: LensTolerances = {
  power: [
    { uptoD: 15, toleranceD: 0.3 },
    { uptoD: 25, toleranceD: 0.4 },
    { uptoD: 30, toleranceD: 0.5 },
    { uptoD: Infinity, toleranceD: 1 },
  ],
  axisMarkDeg: 5,
  lengthMm: 0.2,
};

/**
 * How far the power of a lens may be from its label, in D, from its strongest meridian.
 * Throws CalculationError for a power that is not finite.
 * @source ISO 11979-2 in general words, from memory
 * @example powerToleranceD(-18.5) // 0.4
 */
export function powerToleranceD(
  strongestMeridianD: number,
  tolerances: LensTolerances = LENS_TOLERANCES,
): number {
  requireNumber('strongestMeridianD', strongestMeridianD, ANY_POWER);
  const strength = Math.abs(strongestMeridianD);
  const band = tolerances.power.find((b) => strength <= b.uptoD) ?? tolerances.power.at(-1);
  return requireNumber('tolerances.power', band?.toleranceD, { min: 0, max: 5, unit: 'D' });
}
