import { CalculationError, requireNumber } from '../calculation-error.js';
import { cornealPowerFactor, requireKeratometry } from './corneal-power.js';
import { emptyVector, writeVectorOf } from './power-vector.js';
import { OPTICS_RANGES, requireSphereCylinder } from './ranges.js';
import { NEAR_FOCUS, noImage } from './step-along.js';
import type { MutablePowerVector, PhakicEye } from './types.js';

/**
 * Refractive index of aqueous, without unit.
 * @source van der Heijde 1988; Holladay. Am J Ophthalmol 1993;116:63-66
 */
export const AQUEOUS_INDEX = 1.336;

/** How far the lens plane lies in front of the crystalline lens when a design does not say, in mm. */
export const DEFAULT_LENS_PLANE_OFFSET_MM = 0.6;

/** An eye turned into the vergences that every calculation starts from, in dioptres. */
export interface EyeOptics {
  /** Net corneal power. */
  readonly cornea: MutablePowerVector;
  /** Vergence at the lens plane that focuses on the retina: step(K + R). */
  readonly needed: MutablePowerVector;
  /** Vergence at the lens plane that leaves the target: step(K + T). */
  readonly wanted: MutablePowerVector;
  /** Distance from cornea to lens plane over the index, in metres. */
  reducedDepth: number;
  /** Vertex distance in metres. */
  vertex: number;
}

/** An EyeOptics of nothing, to write into. */
export function emptyOptics(): EyeOptics {
  return {
    cornea: emptyVector(),
    needed: emptyVector(),
    wanted: emptyVector(),
    reducedDepth: 0.5,
    vertex: 0.5,
  };
}

/**
 * Distance in millimetres from the front of the cornea to the lens plane:
 * depth from the endothelium + corneal thickness - offset. Throws CalculationError when it is not above 0.
 * @source anatomy; the offset belongs to the design of the lens
 * @example lensDistanceMm({ anteriorChamberDepthMm: 3.1, cornealThicknessUm: 500, lensPlaneOffsetMm: 0.6 }) // 3.0
 */
export function lensDistanceMm(
  eye: Pick<PhakicEye, 'anteriorChamberDepthMm' | 'cornealThicknessUm' | 'lensPlaneOffsetMm'>,
): number {
  const depth = requireNumber(
    'anteriorChamberDepthMm',
    eye.anteriorChamberDepthMm,
    OPTICS_RANGES.anteriorChamberDepthMm,
  );
  const thickness = requireNumber(
    'cornealThicknessUm',
    eye.cornealThicknessUm,
    OPTICS_RANGES.cornealThicknessUm,
  );
  const offset = requireNumber(
    'lensPlaneOffsetMm',
    eye.lensPlaneOffsetMm ?? DEFAULT_LENS_PLANE_OFFSET_MM,
    OPTICS_RANGES.lensPlaneOffsetMm,
  );
  const distance = depth + thickness / 1000 - offset;
  if (distance > 0) return distance;
  throw new CalculationError(
    'input.contradiction',
    'lensPlaneOffsetMm',
    offset,
    'less than chamber depth and corneal thickness together',
  );
}

/**
 * The chamber depth from the endothelium in millimetres, from a depth that was measured from the
 * epithelium and therefore holds the cornea too.
 * Throws CalculationError for a depth or thickness out of range.
 * @source anatomy: the depth from the epithelium holds the thickness of the cornea
 * @example depthFromEndotheliumMm(3.6, 500) // 3.1
 */
export function depthFromEndotheliumMm(depthFromEpitheliumMm: number, cornealThicknessUm: number): number {
  requireNumber('cornealThicknessUm', cornealThicknessUm, OPTICS_RANGES.cornealThicknessUm);
  requireNumber('depthFromEpitheliumMm', depthFromEpitheliumMm, { min: 1, max: 8, unit: 'mm' });
  return requireNumber(
    'anteriorChamberDepthMm',
    depthFromEpitheliumMm - cornealThicknessUm / 1000,
    OPTICS_RANGES.anteriorChamberDepthMm,
  );
}

const PLANO = { sphereD: 0, cylinderD: 0, axisDeg: 0 };
const cornealNumbers = { sphereD: 0.5, cylinderD: 0.5, axisDeg: 0.5 };

/** Checks the eye and writes its vergences into `out`; throws CalculationError for what cannot be. */
export function writeOptics(eye: PhakicEye, out: EyeOptics): EyeOptics {
  const { refraction, keratometry, target } = eye;
  requireSphereCylinder('refraction', refraction, OPTICS_RANGES.sphereD, OPTICS_RANGES.cylinderD);
  requireNumber('refraction.vertexMm', refraction.vertexMm, OPTICS_RANGES.vertexMm);
  requireKeratometry('keratometry', keratometry);
  out.vertex = refraction.vertexMm / 1000;
  out.reducedDepth = lensDistanceMm(eye) / 1000 / AQUEOUS_INDEX;
  const factor = cornealPowerFactor(keratometry);
  cornealNumbers.sphereD = keratometry.steepD * factor;
  cornealNumbers.cylinderD = (keratometry.flatD - keratometry.steepD) * factor;
  cornealNumbers.axisDeg = keratometry.steepAxisDeg;
  writeVectorOf(cornealNumbers, out.cornea);
  writeVectorOf(refraction, out.needed);
  throughCornea(out.needed, out, 'refraction');
  if (target === undefined) {
    writeVectorOf(PLANO, out.wanted);
  } else {
    requireSphereCylinder('target', target, OPTICS_RANGES.sphereD, OPTICS_RANGES.cylinderD);
    writeVectorOf(target, out.wanted);
  }
  throughCornea(out.wanted, out, 'target');
  return out;
}

/**
 * Takes a spectacle-plane vergence in place to the cornea, through it and on to the lens plane. The
 * two steps are those of `stepAlong`, written out: every sample and every lens passes through here.
 */
export function throughCornea(vector: MutablePowerVector, eye: EyeOptics, field: string): void {
  const { vertex, reducedDepth, cornea } = eye;
  let { meanD, j0D, j45D } = vector;
  let det = meanD * meanD - j0D * j0D - j45D * j45D;
  let q = 1 - 2 * vertex * meanD + vertex * vertex * det;
  if (!(q > NEAR_FOCUS && 1 - vertex * meanD > 0)) throw noImage(field, meanD);
  meanD = (meanD - vertex * det) / q + cornea.meanD;
  j0D = j0D / q + cornea.j0D;
  j45D = j45D / q + cornea.j45D;
  det = meanD * meanD - j0D * j0D - j45D * j45D;
  q = 1 - 2 * reducedDepth * meanD + reducedDepth * reducedDepth * det;
  if (!(q > NEAR_FOCUS && 1 - reducedDepth * meanD > 0)) throw noImage(field, meanD);
  vector.meanD = (meanD - reducedDepth * det) / q;
  vector.j0D = j0D / q;
  vector.j45D = j45D / q;
}

/** Takes a lens-plane vergence in place back out to the spectacle plane: undoes `throughCornea`. */
export function backToSpectacles(vector: MutablePowerVector, eye: EyeOptics, field: string): void {
  const { vertex, reducedDepth, cornea } = eye;
  let { meanD, j0D, j45D } = vector;
  let det = meanD * meanD - j0D * j0D - j45D * j45D;
  let q = 1 + 2 * reducedDepth * meanD + reducedDepth * reducedDepth * det;
  if (!(q > NEAR_FOCUS && 1 + reducedDepth * meanD > 0)) throw noImage(field, meanD);
  meanD = (meanD + reducedDepth * det) / q - cornea.meanD;
  j0D = j0D / q - cornea.j0D;
  j45D = j45D / q - cornea.j45D;
  det = meanD * meanD - j0D * j0D - j45D * j45D;
  q = 1 + 2 * vertex * meanD + vertex * vertex * det;
  if (!(q > NEAR_FOCUS && 1 + vertex * meanD > 0)) throw noImage(field, meanD);
  vector.meanD = (meanD + vertex * det) / q;
  vector.j0D = j0D / q;
  vector.j45D = j45D / q;
}
