import {
  AQUEOUS_INDEX,
  backToSpectacles,
  emptyOptics,
  throughCornea,
  writeOptics,
} from '../optics/eye-optics.js';
import { emptyVector, writeVectorOf } from '../optics/power-vector.js';
import { OPTICS_RANGES, requireSphereCylinder } from '../optics/ranges.js';
import type { MutablePowerVector, PhakicEye, SphereCylinder } from '../optics/types.js';
import type { OutcomeSpreads } from './spreads.js';

/** What can differ from the plan, in the order of a sample's coordinates. */
export const SOURCES_OF_SPREAD = [
  'refraction-mean',
  'refraction-j0',
  'refraction-j45',
  'keratometry-mean',
  'keratometry-j0',
  'keratometry-j45',
  'depth',
  'lens-plane',
  'axis',
  'lens-sphere',
  'lens-cylinder',
] as const;

/** One of the things that can differ from the plan. */
export type SourceOfSpread = (typeof SOURCES_OF_SPREAD)[number];

/** Number of coordinates that one sample needs. */
export const DIMENSIONS = SOURCES_OF_SPREAD.length;

/** Writes the refraction left, at the spectacle plane, for one set of standard normal deviates. */
export type PerturbedOutcome = (z: Float64Array, from: number, out: MutablePowerVector) => void;

/**
 * Prepares an eye and a lens for sampling: the returned function carries one sample through the
 * same steps as `predictedRefraction`, with every quantity off by its own deviate.
 * Throws CalculationError for input that cannot be.
 */
export function perturbedOutcome(
  eye: PhakicEye,
  lens: SphereCylinder,
  spreads: OutcomeSpreads,
): PerturbedOutcome {
  const exact = writeOptics(eye, emptyOptics());
  requireSphereCylinder('lens', lens, OPTICS_RANGES.sphereD, OPTICS_RANGES.cylinderD);
  const measured = writeVectorOf(eye.refraction, emptyVector());
  const perMm = 1 / 1000 / AQUEOUS_INDEX;
  const depthSd = spreads.depthMm * perMm;
  const planeSd = spreads.lensPlaneMm * perMm;
  const axisSd = Math.hypot(spreads.axisPlacementDeg, spreads.axisMarkDeg);
  const { refraction, keratometry, lensSphereD, lensCylinderD } = spreads;
  const sampled = { ...exact, cornea: { ...exact.cornea } };
  const { cornea } = sampled;
  const madeLens = { sphereD: 0.5, cylinderD: 0.5, axisDeg: 0.5 };
  const made = emptyVector();
  return (z, from, out) => {
    out.meanD = measured.meanD + refraction.meanD * (z[from] as number);
    out.j0D = measured.j0D + refraction.j0D * (z[from + 1] as number);
    out.j45D = measured.j45D + refraction.j45D * (z[from + 2] as number);
    cornea.meanD = exact.cornea.meanD + keratometry.meanD * (z[from + 3] as number);
    cornea.j0D = exact.cornea.j0D + keratometry.j0D * (z[from + 4] as number);
    cornea.j45D = exact.cornea.j45D + keratometry.j45D * (z[from + 5] as number);
    sampled.reducedDepth =
      exact.reducedDepth + depthSd * (z[from + 6] as number) + planeSd * (z[from + 7] as number);
    madeLens.axisDeg = lens.axisDeg + axisSd * (z[from + 8] as number);
    madeLens.sphereD = lens.sphereD + lensSphereD * (z[from + 9] as number);
    madeLens.cylinderD = lens.cylinderD + lensCylinderD * (z[from + 10] as number);
    throughCornea(out, sampled, 'refraction');
    writeVectorOf(madeLens, made);
    out.meanD -= made.meanD;
    out.j0D -= made.j0D;
    out.j45D -= made.j45D;
    backToSpectacles(out, sampled, 'lens');
  };
}
