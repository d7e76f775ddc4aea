import { backToSpectacles, emptyOptics, writeOptics, type EyeOptics } from './eye-optics.js';
import {
  axisChoices,
  powerStepsNear,
  requireLensRange,
  type AxisChoice,
  type LensRange,
  type LensTurn,
} from './lens-range.js';
import { powerToleranceD } from './lens-tolerance.js';
import {
  emptyVector,
  fromComponents,
  fromVector,
  normalAxisDeg,
  powerVector,
  writeVector,
} from './power-vector.js';
import {
  DEFAULT_RANK_POLICY,
  policyBreaks,
  requireRankPolicy,
  type PolicyBreak,
  type RankPolicy,
} from './rank-policy.js';
import { minusForm, plusForm } from './sphere-cylinder.js';
import type { PhakicEye, PowerVector, SphereCylinder } from './types.js';

/** A lens that can be made, what it would leave, and what could go wrong with it. */
export interface RankedLens {
  /** 1 is the best by the policy. */
  readonly rank: number;
  /** The lens as it lies in the eye, minus form. */
  readonly lens: SphereCylinder;
  /** The lens as it is ordered: the maker's cylinder form and the axis it is made to. */
  readonly ordered: SphereCylinder;
  /** For designs made to fixed axes: the turn from horizontal. */
  readonly turn?: LensTurn;
  /** Refraction left at the spectacle plane. */
  readonly predicted: SphereCylinder;
  /** Length of the power vector from the target to the predicted refraction, in D. */
  readonly blurD: number;
  /** Predicted less target spherical equivalent, in D: positive is hyperopic. */
  readonly equivalentErrorD: number;
  /** What is left when the lens lies `byDeg` to either side. */
  readonly misplaced: {
    readonly byDeg: number;
    readonly clockwise: SphereCylinder;
    readonly counterclockwise: SphereCylinder;
    readonly worstBlurD: number;
  };
  /** The worst that a lens within its making tolerances leaves. */
  readonly madeWithinTolerance: {
    readonly powerD: number;
    readonly axisMarkDeg: number;
    readonly worst: SphereCylinder;
    readonly worstBlurD: number;
  };
  /** Rules of the policy that this lens breaks; such lenses come last. */
  readonly breaks: readonly PolicyBreak[];
}

const scratch = emptyOptics();
const lensVector = emptyVector();
const left = emptyVector();

/**
 * The lenses that a maker can make near the eye's ideal lens, best first by a stated policy; an
 * empty list when none lies within the policy's window (`lensRangeGaps` says why).
 * Throws CalculationError naming field, value and range for input that cannot be.
 * @source blur Thibos 1997; tolerances ISO 11979-2 in general words, from memory; policy common practice
 * @example rankLenses(eye, { sphere: { minD: -23, maxD: 0, stepD: 0.5 },
 *   cylinder: { minD: -8, maxD: 0, stepD: 0.5 }, axis: { policy: 'any', stepDeg: 1 } })[0].lens
 */
export function rankLenses(eye: PhakicEye, range: LensRange, policy: Partial<RankPolicy> = {}): RankedLens[] {
  const rules: RankPolicy = { ...DEFAULT_RANK_POLICY, ...policy };
  requireRankPolicy(rules);
  requireLensRange(range);
  const optics = writeOptics(eye, scratch);
  const ideal = fromComponents(
    optics.needed.meanD - optics.wanted.meanD,
    optics.needed.j0D - optics.wanted.j0D,
    optics.needed.j45D - optics.wanted.j45D,
  );
  const target = powerVector(eye.target ?? { sphereD: 0, cylinderD: 0, axisDeg: 0 });
  const own = powerVector(eye.refraction);
  const original = difference(own, target);
  const plus = range.form === 'plus';
  const wanted = plus ? plusForm(ideal) : ideal;
  const axes = axisChoices(wanted.axisDeg, range.axis);
  const found: Judged[] = [];
  for (const sphereD of powerStepsNear(wanted.sphereD, range.sphere, rules.windowD)) {
    for (const cylinderD of powerStepsNear(wanted.cylinderD, range.cylinder, rules.windowD)) {
      // A lens without cylinder looks the same at every axis: one place for it, unturned.
      const places = cylinderD === 0 ? [NO_AXIS] : axes;
      for (const place of places) {
        found.push(judged(sphereD, cylinderD, place, optics, target, original, rules));
      }
    }
  }
  found.sort((a, b) => compare(a, b, rules));
  return found.slice(0, rules.count).map((f, i) => described(f, i + 1, optics, target, rules, plus));
}

const NO_AXIS: AxisChoice = { madeAxisDeg: 0, implantedAxisDeg: 0 };

interface Judged {
  readonly sphereD: number;
  readonly cylinderD: number;
  readonly place: AxisChoice;
  readonly predicted: SphereCylinder;
  readonly blurD: number;
  readonly equivalentErrorD: number;
  readonly breaks: PolicyBreak[];
}

function judged(
  sphereD: number,
  cylinderD: number,
  place: AxisChoice,
  optics: EyeOptics,
  target: PowerVector,
  original: PowerVector,
  policy: RankPolicy,
): Judged {
  forward(optics, sphereD, cylinderD, place.implantedAxisDeg);
  const predicted = fromVector(left);
  const leftover = difference(left, target);
  return {
    sphereD,
    cylinderD,
    place,
    predicted,
    blurD: Math.hypot(leftover.meanD, leftover.j0D, leftover.j45D),
    equivalentErrorD: leftover.meanD,
    breaks: policyBreaks(leftover, original, predicted, policy),
  };
}

/** Orders by broken rules, then by the policy's score, then by the weaker lens, so that ties are settled. */
function compare(a: Judged, b: Judged, policy: RankPolicy): number {
  const byRules = a.breaks.length - b.breaks.length;
  if (byRules !== 0) return byRules;
  if (policy.order === 'nearest-equivalent') {
    // Hundredths of a dioptre: below that the cylinder decides.
    const hundredths = (x: Judged): number => Math.round(Math.abs(x.equivalentErrorD) * 100);
    const byEquivalent = hundredths(a) - hundredths(b);
    if (byEquivalent !== 0) return byEquivalent;
  }
  return (
    a.blurD - b.blurD ||
    Math.abs(a.cylinderD) - Math.abs(b.cylinderD) ||
    Math.abs(a.sphereD) - Math.abs(b.sphereD) ||
    a.place.implantedAxisDeg - b.place.implantedAxisDeg
  );
}

function described(
  found: Judged,
  rank: number,
  optics: EyeOptics,
  target: PowerVector,
  policy: RankPolicy,
  plus: boolean,
): RankedLens {
  const { sphereD, cylinderD, place, predicted, blurD, equivalentErrorD, breaks } = found;
  const inEye = { sphereD, cylinderD, axisDeg: place.implantedAxisDeg };
  const made = { sphereD, cylinderD, axisDeg: place.madeAxisDeg };
  return {
    rank,
    lens: minusForm(inEye),
    ordered: plus ? plusForm(made) : minusForm(made),
    ...(place.turn === undefined ? {} : { turn: place.turn }),
    predicted,
    blurD,
    equivalentErrorD,
    misplaced: misplaced(inEye, optics, target, policy.misplacementDeg),
    madeWithinTolerance: worstMade(inEye, optics, target, policy),
    breaks,
  };
}

function misplaced(
  lens: SphereCylinder,
  optics: EyeOptics,
  target: PowerVector,
  byDeg: number,
): RankedLens['misplaced'] {
  forward(optics, lens.sphereD, lens.cylinderD, normalAxisDeg(lens.axisDeg - byDeg));
  const clockwise = fromVector(left);
  const first = blurFrom(target);
  forward(optics, lens.sphereD, lens.cylinderD, normalAxisDeg(lens.axisDeg + byDeg));
  const counterclockwise = fromVector(left);
  return { byDeg, clockwise, counterclockwise, worstBlurD: Math.max(first, blurFrom(target)) };
}

function worstMade(
  lens: SphereCylinder,
  optics: EyeOptics,
  target: PowerVector,
  policy: RankPolicy,
): RankedLens['madeWithinTolerance'] {
  const { sphereD, cylinderD, axisDeg } = lens;
  const strongest = Math.max(Math.abs(sphereD), Math.abs(sphereD + cylinderD));
  const powerD = powerToleranceD(strongest, policy.tolerances);
  const { axisMarkDeg } = policy.tolerances;
  let worstBlurD = -1;
  let worst: SphereCylinder = lens;
  // Power and axis are worst at the ends of their tolerances: both meridians off, either side.
  for (const sphereOff of [-powerD, powerD]) {
    for (const cylinderOff of cylinderD === 0 ? [0] : [-powerD, 0, powerD]) {
      for (const axisOff of cylinderD === 0 ? [0] : [-axisMarkDeg, axisMarkDeg]) {
        forward(optics, sphereD + sphereOff, cylinderD + cylinderOff, axisDeg + axisOff);
        const blur = blurFrom(target);
        if (blur <= worstBlurD) continue;
        worstBlurD = blur;
        worst = fromVector(left);
      }
    }
  }
  return { powerD, axisMarkDeg, worst, worstBlurD };
}

/** Leaves in `left` what a lens leaves at the spectacle plane. */
function forward(optics: EyeOptics, sphereD: number, cylinderD: number, axisDeg: number): void {
  writeVector(sphereD, cylinderD, axisDeg, lensVector);
  left.meanD = optics.needed.meanD - lensVector.meanD;
  left.j0D = optics.needed.j0D - lensVector.j0D;
  left.j45D = optics.needed.j45D - lensVector.j45D;
  backToSpectacles(left, optics, 'lens');
}

function blurFrom(target: PowerVector): number {
  return Math.hypot(left.meanD - target.meanD, left.j0D - target.j0D, left.j45D - target.j45D);
}

function difference(a: PowerVector, b: PowerVector): PowerVector {
  return { meanD: a.meanD - b.meanD, j0D: a.j0D - b.j0D, j45D: a.j45D - b.j45D };
}
