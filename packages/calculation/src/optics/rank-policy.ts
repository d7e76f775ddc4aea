import { requireNumber } from '../calculation-error.js';
import { LENS_TOLERANCES, type LensTolerances } from './lens-tolerance.js';
import { requireSphereCylinder } from './ranges.js';
import { turnDeg } from './power-vector.js';
import type { PowerVector, SphereCylinder } from './types.js';

/** The stated policy by which lenses that can be made are put in order. */
export interface RankPolicy {
  /** `least-blur`: shortest power vector from the target; `nearest-equivalent`: spherical equivalent first. */
  readonly order: 'least-blur' | 'nearest-equivalent';
  /** Put lenses that turn the leftover cylinder across the eye's own axis behind all others. */
  readonly neverFlipAxis: boolean;
  /** Put lenses that leave more with-the-rule cylinder than this behind all others, in D; no limit when left out. */
  readonly maximumWithTheRuleD?: number | undefined;
  /** Leftover cylinder below this is not counted as flipped, in D. */
  readonly unseenCylinderD: number;
  /** Steps up to this far from the ideal sphere and cylinder are tried, in D. */
  readonly windowD: number;
  /** How many lenses to give back. */
  readonly count: number;
  /** Misplacement whose effect is shown, in degrees. */
  readonly misplacementDeg: number;
  readonly tolerances: LensTolerances;
}

/** Least blur without flipping the axis (common practice, no source), ±5° and the usual lens tolerances. */
export const DEFAULT_RANK_POLICY: RankPolicy = {
  order: 'least-blur',
  neverFlipAxis: true,
  unseenCylinderD: 0.1,
  windowD: 1,
  count: 12,
  misplacementDeg: 5,
  tolerances: LENS_TOLERANCES,
};

/** A rule of the policy that a lens breaks. */
export type PolicyBreak = 'flips-axis' | 'with-the-rule';

/** The rules that a leftover refraction breaks; `leftover` and `original` are without the target. */
export function policyBreaks(
  leftover: PowerVector,
  original: PowerVector,
  predicted: SphereCylinder,
  policy: RankPolicy,
): PolicyBreak[] {
  const breaks: PolicyBreak[] = [];
  const leftoverCylinderD = 2 * Math.hypot(leftover.j0D, leftover.j45D);
  // Opposite halves of double-angle space: the leftover axis is more than 45° from the eye's own.
  const along = leftover.j0D * original.j0D + leftover.j45D * original.j45D;
  if (policy.neverFlipAxis && along < 0 && leftoverCylinderD > policy.unseenCylinderD) {
    breaks.push('flips-axis');
  }
  const limit = policy.maximumWithTheRuleD;
  if (limit !== undefined && isWithTheRule(predicted) && -predicted.cylinderD > limit + 1e-9) {
    breaks.push('with-the-rule');
  }
  return breaks;
}

/**
 * Whether a minus-form refraction is with the rule: minus-cylinder axis within 30° of horizontal.
 * Throws CalculationError for a number that is not finite or an axis outside 0 to 180.
 * @source common practice, no source
 * @example isWithTheRule({ sphereD: 0, cylinderD: -1, axisDeg: 170 }) // true
 */
export function isWithTheRule(refraction: SphereCylinder): boolean {
  requireSphereCylinder('refraction', refraction);
  return refraction.cylinderD < 0 && Math.abs(turnDeg(0, refraction.axisDeg)) <= 30;
}

/** Throws CalculationError for a policy that cannot be. */
export function requireRankPolicy(policy: RankPolicy): void {
  requireNumber('policy.windowD', policy.windowD, { min: 0, max: 5, unit: 'D' });
  requireNumber('policy.count', policy.count, { min: 1, max: 10000, unit: 'lenses' });
  requireNumber('policy.unseenCylinderD', policy.unseenCylinderD, { min: 0, max: 5, unit: 'D' });
  const misplacement = { min: 0, max: 90, unit: 'degrees' };
  requireNumber('policy.misplacementDeg', policy.misplacementDeg, misplacement);
  if (policy.maximumWithTheRuleD !== undefined) {
    const limit = { min: 0, max: 10, unit: 'D' };
    requireNumber('policy.maximumWithTheRuleD', policy.maximumWithTheRuleD, limit);
  }
}
