import { requireNumber, type NumberRange } from '../calculation-error.js';
import type { SphereCylinder } from './types.js';

/**
 * What each optical field may hold. Wide enough for any human eye and narrow enough to catch a
 * wrong unit or a slipped decimal point (common practice, no source).
 */
export const OPTICS_RANGES = {
  sphereD: { min: -60, max: 60, unit: 'D' },
  cylinderD: { min: -30, max: 30, unit: 'D' },
  axisDeg: { min: 0, max: 180, unit: 'degrees' },
  vertexMm: { min: 0, max: 30, unit: 'mm' },
  cornealPowerD: { min: 15, max: 120, unit: 'D' },
  keratometricIndex: { min: 1.3, max: 1.4, unit: '' },
  anteriorChamberDepthMm: { min: 1, max: 7, unit: 'mm' },
  cornealThicknessUm: { min: 100, max: 1200, unit: 'µm' },
  lensPlaneOffsetMm: { min: -1, max: 2.5, unit: 'mm' },
} as const satisfies Record<string, NumberRange>;

/** Powers that the algebra of sphero-cylinders takes: refractions, lenses and corneas alike, in D. */
export const ANY_POWER: NumberRange = { min: -200, max: 200, unit: 'D' };

/**
 * Throws unless all three numbers are finite and the axis lies from 0 to 180; `field` is their path.
 */
export function requireSphereCylinder(
  field: string,
  value: SphereCylinder,
  sphere: NumberRange = ANY_POWER,
  cylinder: NumberRange = ANY_POWER,
): void {
  // The path is only put together for an error: this runs once for every eye and lens.
  const { sphereD, cylinderD, axisDeg } = value;
  if (
    sphereD >= sphere.min &&
    sphereD <= sphere.max &&
    cylinderD >= cylinder.min &&
    cylinderD <= cylinder.max &&
    axisDeg >= 0 &&
    axisDeg <= 180 &&
    typeof sphereD === 'number' &&
    typeof cylinderD === 'number' &&
    typeof axisDeg === 'number'
  ) {
    return;
  }
  const path = field === '' ? '' : `${field}.`;
  requireNumber(`${path}sphereD`, sphereD, sphere);
  requireNumber(`${path}cylinderD`, cylinderD, cylinder);
  requireNumber(`${path}axisDeg`, axisDeg, OPTICS_RANGES.axisDeg);
}
