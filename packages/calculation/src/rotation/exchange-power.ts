import { requireNumber } from '../calculation-error.js';
import { backToSpectacles, emptyOptics, writeOptics } from '../optics/eye-optics.js';
import { idealLens } from '../optics/ideal-lens.js';
import { emptyVector, fromComponents, powerVector, blurD, writeVector } from '../optics/power-vector.js';
import { predictedRefraction } from '../optics/predicted-refraction.js';
import { OPTICS_RANGES, requireSphereCylinder } from '../optics/ranges.js';
import { subtractCrossed } from '../optics/sphere-cylinder.js';
import type { PhakicEye, SphereCylinder } from '../optics/types.js';
import type { Reason } from '../sizing/vault-basis.js';

/** The lens that the eye needs now, and the eye as if it had none. */
export interface ExchangePower {
  /** Unrounded, minus form. */
  readonly lens: SphereCylinder;
  /** New less implanted lens, at the axis where that lies. */
  readonly change: SphereCylinder;
  /** The eye with the refraction it would have without the lens: for `rankLenses` and `expectedOutcome`. */
  readonly eyeWithoutLens: PhakicEye;
}

/**
 * The power of the new lens for an exchange: the implanted lens where it is seen to lie plus what
 * the eye still needs. `eye.refraction` is the refraction left with the lens in place.
 * Throws CalculationError naming field, value and range.
 * @source the vergence steps of `idealLens`, with the lens in the eye added at the lens plane
 * @example exchangePower(eyeAfterSurgery, { sphereD: -9, cylinderD: -4, axisDeg: 30 }, 30).lens
 */
export function exchangePower(eye: PhakicEye, implanted: SphereCylinder, seenAxisDeg: number): ExchangePower {
  const optics = writeOptics(eye, emptyOptics());
  requireSphereCylinder('lens', implanted, OPTICS_RANGES.sphereD, OPTICS_RANGES.cylinderD);
  requireNumber('seenAxisDeg', seenAxisDeg, OPTICS_RANGES.axisDeg);
  const v = writeVector(implanted.sphereD, implanted.cylinderD, seenAxisDeg, emptyVector());
  v.meanD += optics.needed.meanD;
  v.j0D += optics.needed.j0D;
  v.j45D += optics.needed.j45D;
  backToSpectacles(v, optics, 'lens');
  const refraction = {
    ...fromComponents(v.meanD, v.j0D, v.j45D),
    vertexMm: eye.refraction.vertexMm,
  };
  const eyeWithoutLens: PhakicEye = { ...eye, refraction };
  const lens = idealLens(eyeWithoutLens);
  const lying = { ...implanted, axisDeg: seenAxisDeg };
  return { lens, change: subtractCrossed(lens, lying), eyeWithoutLens };
}

/** What was planned and what is found after surgery. */
export interface SurpriseQuestion {
  /** The eye as measured before surgery. */
  readonly eyeBefore: PhakicEye;
  readonly lens: SphereCylinder;
  readonly plannedAxisDeg: number;
  readonly seenAxisDeg: number;
  /** The refraction left, at the vertex distance of the eye before. */
  readonly refractionLeft: SphereCylinder;
  /** Vault expected less vault measured moves the lens plane; both in µm, or neither. */
  readonly expectedVaultUm?: number | undefined;
  readonly measuredVaultUm?: number | undefined;
  /** What may stay unexplained before the power itself is doubted, in D (common practice, no source). */
  readonly unexplainedUpToD?: number | undefined;
}

/** A refractive surprise taken apart. */
export interface ExplainedSurprise {
  /** Refraction that the plan promised. */
  readonly planned: SphereCylinder;
  /** Refraction left less planned. */
  readonly surprise: SphereCylinder;
  /** Lengths of the power vectors in D, 0 or more. */
  readonly surpriseD: number;
  readonly byAxisD: number;
  readonly byPositionD: number;
  readonly unexplainedD: number;
  readonly unexplained: SphereCylinder;
  /** `none`: as planned; else the first thing that explains it; `power`: neither axis nor position does. */
  readonly cause: 'none' | 'axis' | 'position' | 'axis-and-position' | 'power';
  readonly reasons: readonly Reason[];
}

/**
 * Takes a refractive surprise apart: how much the lens's axis explains, how much its distance from
 * the cornea (a higher vault brings it forward), and what remains for its power or the measurements.
 * Throws CalculationError naming field, value and range.
 * @source the optics of `predictedRefraction`; limit of 0.75 D common practice, no source
 * @example explainSurprise({ eyeBefore, lens, plannedAxisDeg: 30, seenAxisDeg: 45, refractionLeft }).cause // 'axis'
 */
export function explainSurprise(question: SurpriseQuestion): ExplainedSurprise {
  const { eyeBefore, lens, plannedAxisDeg, seenAxisDeg, refractionLeft } = question;
  const limitD = question.unexplainedUpToD ?? 0.75;
  requireNumber('unexplainedUpToD', limitD, { min: 0, max: 10, unit: 'D' });
  requireSphereCylinder('refractionLeft', refractionLeft);
  const planned = predictedRefraction(eyeBefore, lens, plannedAxisDeg);
  const lying = predictedRefraction(eyeBefore, lens, seenAxisDeg);
  const moved = predictedRefraction(movedEye(question), lens, seenAxisDeg);
  const apart = (a: SphereCylinder, b: SphereCylinder): number => blurD(powerVector(subtractCrossed(a, b)));
  const surpriseD = apart(refractionLeft, planned);
  const unexplained = subtractCrossed(refractionLeft, moved);
  const numbers = {
    surpriseD,
    byAxisD: apart(lying, planned),
    byPositionD: apart(moved, lying),
    unexplainedD: blurD(powerVector(unexplained)),
  };
  const cause = causeOf(numbers, apart(refractionLeft, lying), limitD);
  return {
    planned,
    surprise: subtractCrossed(refractionLeft, planned),
    ...numbers,
    unexplained,
    cause,
    reasons: [{ code: `surprise.${cause}`, message: causeMessage(cause, numbers) }],
  };
}

function movedEye(question: SurpriseQuestion): PhakicEye {
  const { eyeBefore, expectedVaultUm, measuredVaultUm } = question;
  if (expectedVaultUm === undefined || measuredVaultUm === undefined) return eyeBefore;
  const vault = { min: 0, max: 3000, unit: 'µm' };
  requireNumber('expectedVaultUm', expectedVaultUm, vault);
  requireNumber('measuredVaultUm', measuredVaultUm, vault);
  const forwardMm = (measuredVaultUm - expectedVaultUm) / 1000;
  return { ...eyeBefore, lensPlaneOffsetMm: (eyeBefore.lensPlaneOffsetMm ?? 0.6) + forwardMm };
}

type SurpriseNumbers = Pick<ExplainedSurprise, 'surpriseD' | 'byAxisD' | 'byPositionD' | 'unexplainedD'>;

function causeOf(n: SurpriseNumbers, afterAxisD: number, limitD: number): ExplainedSurprise['cause'] {
  if (n.surpriseD <= limitD) return 'none';
  if (n.unexplainedD > limitD) return 'power';
  if (afterAxisD <= limitD) return 'axis';
  return n.byAxisD < n.byPositionD / 4 ? 'position' : 'axis-and-position';
}

function causeMessage(cause: ExplainedSurprise['cause'], n: SurpriseNumbers): string {
  const d = (value: number): string => `${value.toFixed(2)} D`;
  const parts = `axis ${d(n.byAxisD)}, position ${d(n.byPositionD)}, unexplained ${d(n.unexplainedD)}`;
  const head = {
    none: 'The refraction is as planned within what can be told',
    axis: 'The axis of the lens explains the surprise',
    position: 'The distance of the lens from the cornea explains the surprise',
    'axis-and-position': 'Axis and distance of the lens together explain the surprise',
    power: 'Neither axis nor position explains the surprise: check measurements and label, then the power',
  }[cause];
  return `${head} (${parts}).`;
}
