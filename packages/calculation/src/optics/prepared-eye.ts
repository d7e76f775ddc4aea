import { requireNumber } from '../calculation-error.js';
import { backToSpectacles, emptyOptics, writeOptics } from './eye-optics.js';
import { emptyVector, fromVector, writeVector, writeVectorOf } from './power-vector.js';
import { OPTICS_RANGES, requireSphereCylinder } from './ranges.js';
import type { PhakicEye, SphereCylinder } from './types.js';

/** An eye checked and carried to the lens plane once, for asking about many lenses. */
export interface PreparedEye {
  /** As `idealLens` gives it. */
  readonly ideal: SphereCylinder;
  /** As `predictedRefraction` gives it. */
  readonly leaves: (lens: SphereCylinder, implantedAxisDeg?: number) => SphereCylinder;
}

const lensVector = emptyVector();
const left = emptyVector();

/**
 * Does the part of `idealLens` and `predictedRefraction` that only depends on the eye, once: for a
 * page where somebody turns a lens, or for a batch. Throws CalculationError as they do.
 * @source as `idealLens`
 * @example const prepared = prepareEye(eye); prepared.leaves(prepared.ideal) // the target
 */
export function prepareEye(eye: PhakicEye): PreparedEye {
  const optics = writeOptics(eye, emptyOptics());
  const { needed, wanted } = optics;
  left.meanD = needed.meanD - wanted.meanD;
  left.j0D = needed.j0D - wanted.j0D;
  left.j45D = needed.j45D - wanted.j45D;
  return {
    ideal: fromVector(left),
    leaves: (lens, implantedAxisDeg) => {
      requireSphereCylinder('lens', lens, OPTICS_RANGES.sphereD, OPTICS_RANGES.cylinderD);
      if (implantedAxisDeg === undefined) {
        writeVectorOf(lens, lensVector);
      } else {
        requireNumber('implantedAxisDeg', implantedAxisDeg, OPTICS_RANGES.axisDeg);
        writeVector(lens.sphereD, lens.cylinderD, implantedAxisDeg, lensVector);
      }
      left.meanD = needed.meanD - lensVector.meanD;
      left.j0D = needed.j0D - lensVector.j0D;
      left.j45D = needed.j45D - lensVector.j45D;
      backToSpectacles(left, optics, 'lens');
      return fromVector(left);
    },
  };
}
