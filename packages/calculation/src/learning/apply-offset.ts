import { addCrossed } from '../optics/sphere-cylinder.js';
import { vertexStep } from '../optics/vertex-step.js';
import { fromComponents } from '../optics/power-vector.js';
import { requireNumber } from '../calculation-error.js';
import type { Refraction, SphereCylinder } from '../optics/types.js';

/** The components of a learned offset, in dioptres at the spectacle plane: achieved less predicted. */
export interface OffsetVector {
  readonly meanD: number;
  readonly j0D: number;
  readonly j45D: number;
}

/** An offset beyond this is no habit of a place but a mistake somewhere (own assumption). */
const MOST_D = 2;

/**
 * The refraction to plan from so that a learned offset is allowed for: eyes of this place came out by the offset away
 * from what was predicted, so the lens is chosen as for an eye that is off by that much more. Added at the cornea, where
 * a dioptre of a strong refraction is worth as much as one of what is left; given and returned at the spectacle plane,
 * minus form. Nothing applies it but a surgeon's own choice.
 * Throws CalculationError for a component beyond ±2 D or a refraction that cannot be.
 * @source sums of dioptric power vectors: Thibos et al. Optom Vis Sci 1997;74:367-375; vertex step: Holladay. Am J Ophthalmol 1993;116:63-66
 * @example withOffset({ sphereD: -8, cylinderD: 0, axisDeg: 0, vertexMm: 12 }, { meanD: -0.25, j0D: 0, j45D: 0 }) // -8.30
 */
export function withOffset(refraction: Refraction, offset: OffsetVector): SphereCylinder {
  for (const name of ['meanD', 'j0D', 'j45D'] as const)
    requireNumber(`offset.${name}`, offset[name], { min: -MOST_D, max: MOST_D, unit: 'D' });
  const { vertexMm } = refraction;
  const left = fromComponents(offset.meanD, offset.j0D, offset.j45D);
  const atCornea = addCrossed(vertexStep(refraction, vertexMm), vertexStep(left, vertexMm));
  return vertexStep(atCornea, -vertexMm);
}
