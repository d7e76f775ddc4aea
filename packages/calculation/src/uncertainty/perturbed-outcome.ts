import { AQUEOUS_INDEX, emptyOptics, writeOptics } from '../optics/eye-optics.js';
import { emptyVector, writeVector } from '../optics/power-vector.js';
import { OPTICS_RANGES, requireSphereCylinder } from '../optics/ranges.js';
import { stepAlong } from '../optics/step-along.js';
import type { MutablePowerVector, PhakicEye, PowerVector, SphereCylinder } from '../optics/types.js';
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
  const { cornea, vertex, reducedDepth } = writeOptics(eye, emptyOptics());
  requireSphereCylinder('lens', lens, OPTICS_RANGES.sphereD, OPTICS_RANGES.cylinderD);
  const r = eye.refraction;
  const measured: PowerVector = writeVector(r.sphereD, r.cylinderD, r.axisDeg, emptyVector());
  const perMm = 1 / 1000 / AQUEOUS_INDEX;
  const depthSd = spreads.depthMm * perMm;
  const planeSd = spreads.lensPlaneMm * perMm;
  const axisSd = Math.hypot(spreads.axisPlacementDeg, spreads.axisMarkDeg);
  const made = emptyVector();
  const { refraction, keratometry } = spreads;
  return (z, from, out) => {
    const at = (k: number): number => z[from + k] as number;
    const kMean = cornea.meanD + keratometry.meanD * at(3);
    const kJ0 = cornea.j0D + keratometry.j0D * at(4);
    const kJ45 = cornea.j45D + keratometry.j45D * at(5);
    const depth = reducedDepth + depthSd * at(6) + planeSd * at(7);
    out.meanD = measured.meanD + refraction.meanD * at(0);
    out.j0D = measured.j0D + refraction.j0D * at(1);
    out.j45D = measured.j45D + refraction.j45D * at(2);
    stepAlong(out, vertex, 'refraction');
    out.meanD += kMean;
    out.j0D += kJ0;
    out.j45D += kJ45;
    stepAlong(out, depth, 'refraction');
    writeVector(
      lens.sphereD + spreads.lensSphereD * at(9),
      lens.cylinderD + spreads.lensCylinderD * at(10),
      lens.axisDeg + axisSd * at(8),
      made,
    );
    out.meanD -= made.meanD;
    out.j0D -= made.j0D;
    out.j45D -= made.j45D;
    stepAlong(out, -depth, 'lens');
    out.meanD -= kMean;
    out.j0D -= kJ0;
    out.j45D -= kJ45;
    stepAlong(out, -vertex, 'lens');
  };
}
