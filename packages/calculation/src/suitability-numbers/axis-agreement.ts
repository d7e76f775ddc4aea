import { requireNumber } from '../calculation-error.js';
import { cornealPower } from '../optics/corneal-power.js';
import { powerVector, turnDeg } from '../optics/power-vector.js';
import type { Keratometry, PowerVector, Refraction, SphereCylinder } from '../optics/types.js';
import { subtractCrossed } from '../optics/sphere-cylinder.js';
import { vertexStep } from '../optics/vertex-step.js';
import { requireNoise } from './refraction-change.js';
import { DEFAULT_SPREADS } from '../uncertainty/spreads.js';

/** How far the axis of the refraction lies from the axis of the cornea, and what that is worth. */
export interface AxisAgreement {
  /** Axis of the refraction at the corneal plane less the axis the cornea asks for, -90 to 90. */
  readonly differenceDeg: number;
  /** Cylinder, in D, that this difference is worth: 2 × the weaker cylinder × sin of the angle. */
  readonly weightD: number;
  readonly refractiveCylinderD: number;
  readonly cornealCylinderD: number;
  /** Refractive cylinder at the cornea less the cornea's own: what is not corneal, in D. */
  readonly notCorneal: SphereCylinder;
  /** Standard deviation of the difference by measuring noise, in degrees; 90 where a cylinder is too weak to have an axis. */
  readonly noiseDeg: number;
  /** `agree`: within noise or worth little; `differ`: beyond both; `no-axis`: a cylinder is too weak. */
  readonly verdict: 'agree' | 'differ' | 'no-axis';
}

/** Settings of the comparison. */
export interface AxisAgreementSettings {
  readonly refractionNoise: PowerVector;
  readonly keratometryNoise: PowerVector;
  /** Differences worth less than this do not matter, in D (common practice, no source). */
  readonly mattersFromD: number;
  /** Cylinders below this have no axis to speak of, in D (common practice, no source). */
  readonly axisFromD: number;
}

/**
 * Compares the axis of the refraction, brought to the corneal plane, with that of the cornea, with
 * the weight of the cylinder and the noise of both. They are never averaged.
 * Throws CalculationError naming field, value and range.
 * @source residual cylinder 2 C sin θ, Felipe et al. J Cataract Refract Surg; noise: DEFAULT_SPREADS
 * @example axisAgreement({ sphereD: -8, cylinderD: -4, axisDeg: 30, vertexMm: 12 },
 *   { flatD: 46, steepD: 50, steepAxisDeg: 130 }).differenceDeg // -10
 */
export function axisAgreement(
  refraction: Refraction,
  keratometry: Keratometry,
  own: Partial<AxisAgreementSettings> = {},
): AxisAgreement {
  const s: AxisAgreementSettings = {
    refractionNoise: DEFAULT_SPREADS.refraction,
    keratometryNoise: DEFAULT_SPREADS.keratometry,
    mattersFromD: 1,
    axisFromD: 0.75,
    ...own,
  };
  requireNoise(s.refractionNoise);
  requireNoise(s.keratometryNoise);
  requireNumber('settings.mattersFromD', s.mattersFromD, { min: 0, max: 20, unit: 'D' });
  requireNumber('settings.axisFromD', s.axisFromD, { min: 0, max: 20, unit: 'D' });
  const atCornea = vertexStep(refraction, refraction.vertexMm);
  const cornea = cornealPower(keratometry);
  // The correcting minus cylinder lies along the flat meridian, across the cornea's own minus axis.
  const asked = { sphereD: 0, cylinderD: cornea.cylinderD, axisDeg: (cornea.axisDeg + 90) % 180 };
  const both = [-atCornea.cylinderD, -cornea.cylinderD] as const;
  const weak = Math.min(...both);
  const differenceDeg = weak === 0 ? 0 : turnDeg(asked.axisDeg, atCornea.axisDeg);
  const weightD = 2 * weak * Math.sin((Math.abs(differenceDeg) * Math.PI) / 180);
  const noiseDeg = Math.min(
    90,
    Math.hypot(axisNoise(both[0], s.refractionNoise), axisNoise(both[1], s.keratometryNoise)),
  );
  const beyondNoise = Math.abs(differenceDeg) > 1.96 * noiseDeg;
  const verdict =
    weak < s.axisFromD ? 'no-axis' : beyondNoise && weightD >= s.mattersFromD ? 'differ' : 'agree';
  const v = powerVector({ ...atCornea, sphereD: 0 });
  return {
    differenceDeg,
    weightD,
    refractiveCylinderD: both[0],
    cornealCylinderD: both[1],
    notCorneal: subtractCrossed({ ...atCornea, sphereD: -v.meanD }, centred(asked)),
    noiseDeg,
    verdict,
  };
}

/** The same cylinder with a spherical equivalent of 0, so that differences show cylinder only. */
function centred(value: SphereCylinder): SphereCylinder {
  return { ...value, sphereD: -value.cylinderD / 2 };
}

/** Spread of an axis in degrees: half the angle that the noise of J subtends at the end of J. */
function axisNoise(cylinderD: number, noise: PowerVector): number {
  if (cylinderD === 0) return 90;
  return ((Math.hypot(noise.j0D, noise.j45D) / Math.SQRT2 / (cylinderD / 2)) * 90) / Math.PI;
}
