import { CalculationError, requireNumber } from '../calculation-error.js';
import { normalAxisDeg } from './power-vector.js';
import { OPTICS_RANGES } from './ranges.js';
import type { Keratometry, SphereCylinder } from './types.js';

/**
 * The ways from a keratometer's reading to the power of the cornea. A keratometer measures a radius
 * and prints (index - 1) / radius; the vergence formula wants the net power of both corneal faces.
 */
export const KERATOMETRIC_CONVERSIONS = {
  'as-given': {
    netIndex: undefined,
    meaning: 'The powers are net corneal powers already and are used unchanged.',
    source: 'no conversion',
  },
  'net-four-thirds': {
    netIndex: 4 / 3,
    meaning:
      'Reading to radius with its own index, then radius to net power with the index 4/3: 45.00 D at 1.3375 becomes 44.444 D.',
    source: 'Holladay. Am J Ophthalmol 1993;116:63-66',
  },
} as const;

/** Name of a way from reading to power. */
export type KeratometricConversion = keyof typeof KERATOMETRIC_CONVERSIONS;

/**
 * The way that a keratometry takes: with an index it is a reading and is converted to net power;
 * without one the powers are taken as given.
 * Throws nothing.
 * @source Holladay. Am J Ophthalmol 1993;116:63-66
 * @example keratometricConversion({ flatD: 45, steepD: 45, steepAxisDeg: 0, index: 1.3375 }) // 'net-four-thirds'
 */
export function keratometricConversion(keratometry: Keratometry): KeratometricConversion {
  return keratometry.index === undefined ? 'as-given' : 'net-four-thirds';
}

/**
 * Factor from reading to net corneal power, without unit: (4/3 - 1) / (index - 1), or 1 without an index.
 * Throws CalculationError for an index that cannot be.
 * @source Holladay. Am J Ophthalmol 1993;116:63-66
 * @example cornealPowerFactor({ flatD: 45, steepD: 45, steepAxisDeg: 0, index: 1.3375 }) // 0.98765
 */
export function cornealPowerFactor(keratometry: Keratometry): number {
  const { netIndex } = KERATOMETRIC_CONVERSIONS[keratometricConversion(keratometry)];
  const { index } = keratometry;
  if (netIndex === undefined || index === undefined) return 1;
  requireNumber('keratometry.index', index, OPTICS_RANGES.keratometricIndex);
  return (netIndex - 1) / (index - 1);
}

/**
 * The cornea as a sphero-cylinder of net power, in minus form: the axis of the minus cylinder is
 * the steep meridian. Throws CalculationError for powers outside 15 to 120 D or flat above steep.
 * @source Holladay. Am J Ophthalmol 1993;116:63-66 (index 4/3)
 * @example cornealPower({ flatD: 46, steepD: 50, steepAxisDeg: 120 }) // 50.00 / -4.00 x 120
 */
export function cornealPower(keratometry: Keratometry): SphereCylinder {
  requireKeratometry('keratometry', keratometry);
  const factor = cornealPowerFactor(keratometry);
  const toric = keratometry.steepD > keratometry.flatD;
  return {
    sphereD: keratometry.steepD * factor,
    cylinderD: toric ? (keratometry.flatD - keratometry.steepD) * factor : 0,
    axisDeg: toric ? normalAxisDeg(keratometry.steepAxisDeg) : 0,
  };
}

/** Throws CalculationError unless powers, axis and index are in range and flat is not above steep. */
export function requireKeratometry(field: string, value: Keratometry): void {
  const { flatD, steepD, steepAxisDeg, index } = value;
  const { cornealPowerD, keratometricIndex } = OPTICS_RANGES;
  // The usual case first, before any path is put together: this runs once for every eye.
  if (
    typeof flatD === 'number' &&
    typeof steepD === 'number' &&
    typeof steepAxisDeg === 'number' &&
    flatD >= cornealPowerD.min &&
    flatD <= steepD &&
    steepD <= cornealPowerD.max &&
    steepAxisDeg >= 0 &&
    steepAxisDeg <= 180 &&
    (index === undefined ||
      (typeof index === 'number' && index >= keratometricIndex.min && index <= keratometricIndex.max))
  ) {
    return;
  }
  requireNumber(`${field}.flatD`, value.flatD, OPTICS_RANGES.cornealPowerD);
  requireNumber(`${field}.steepD`, value.steepD, OPTICS_RANGES.cornealPowerD);
  requireNumber(`${field}.steepAxisDeg`, value.steepAxisDeg, OPTICS_RANGES.axisDeg);
  if (value.index !== undefined) {
    requireNumber(`${field}.index`, value.index, OPTICS_RANGES.keratometricIndex);
  }
  // Swapping them in silence would turn the axis by 90 degrees.
  if (value.flatD > value.steepD) {
    throw new CalculationError(
      'input.contradiction',
      `${field}.flatD`,
      value.flatD,
      `at most steepD, which is ${value.steepD} D`,
    );
  }
}
