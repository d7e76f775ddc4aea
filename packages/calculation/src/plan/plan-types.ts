import type { PhakicEye, SphereCylinder } from '../optics/types.js';
import type { SizingSettings } from '../sizing/sizing-settings.js';
import type { VaultModel } from '../sizing/vault-model.js';
import type { Interval, OutcomeOptions } from '../uncertainty/expected-outcome.js';
import type { OutcomeSpreads } from '../uncertainty/spreads.js';

/** One eye as the command reads it. Units are in the names; axes are 0 to 180 degrees. */
export interface PlanInput extends PhakicEye {
  readonly id: string | number;
  readonly eye: 'OD' | 'OS';
  readonly kmaxD?: number | undefined;
  readonly coneDistanceMm?: number | undefined;
  readonly whiteToWhiteMm?: number | undefined;
  readonly sulcusMm?: number | undefined;
  readonly angleToAngleMm?: number | undefined;
  readonly lensRiseUm?: number | undefined;
  readonly lensThicknessMm?: number | undefined;
  /** A lens to judge. */
  readonly lens?: SphereCylinder | undefined;
  /** Lengths that can be made. */
  readonly sizesMm?: readonly number[] | undefined;
}

/** How a finding weighs: nothing to do, look at it, or do not go on without a reason. */
export type FindingLevel = 'fine' | 'caution' | 'stop';

/** Something the plan has to say, for a program by its code and for a person by its message. */
export interface Finding {
  readonly code: string;
  readonly level: FindingLevel;
  readonly message: string;
}

/** One length and its vault as the command prints it. */
export interface PlannedSize {
  readonly lengthMm: number;
  readonly vaultUm: Interval;
  readonly low: number;
  readonly intended: number;
  readonly high: number;
}

/** The plan of one eye as the command prints it. */
export interface Plan {
  readonly id: string | number;
  /** Unrounded, minus cylinder, 0 ≤ axis < 180. */
  readonly idealLens: SphereCylinder;
  /** What `lens` leaves, when it was given. */
  readonly predictedRefraction?: SphereCylinder;
  /** For `lens` when it was given, else for the ideal lens. */
  readonly expected: {
    readonly withinHalfD: number;
    readonly withinOneD: number;
    readonly sphericalEquivalentD: Interval;
    readonly cylinderD: Interval;
  };
  /** Shortest first; empty when no width of the eye was measured. */
  readonly sizes: readonly PlannedSize[];
  /** Absent when no width of the eye was measured. */
  readonly suggestedLengthMm?: number;
  readonly findings: readonly Finding[];
}

/** Limits of the findings, each the clinic's own (common practice where no source is given). */
export interface PlanLimits {
  readonly depthStopBelowMm: number;
  readonly depthCautionBelowMm: number;
  /** Deeper than this is more likely a depth from the epithelium. */
  readonly depthDoubtedAboveMm: number;
  readonly kmaxCautionFromD: number;
  /** Refraction left by the lens to judge, as blur. */
  readonly leftoverCautionAboveD: number;
  readonly leftoverStopAboveD: number;
  /** Chance of the intended vault below which the suggested size is a caution. */
  readonly intendedCautionBelow: number;
}

/** Defaults of the findings. */
export const DEFAULT_PLAN_LIMITS: PlanLimits = {
  depthStopBelowMm: 2.8,
  depthCautionBelowMm: 3,
  depthDoubtedAboveMm: 4,
  kmaxCautionFromD: 60,
  leftoverCautionAboveD: 0.5,
  leftoverStopAboveD: 1,
  intendedCautionBelow: 0.5,
};

/** Lengths tried when an eye does not say what can be made: 0.25 mm steps. */
export const DEFAULT_LENGTHS_MM: readonly number[] = Array.from({ length: 13 }, (_, i) => 11.5 + i * 0.25);

/** Everything about a plan that a clinic may set. */
export interface PlanSettings {
  readonly spreads?: OutcomeSpreads | undefined;
  readonly outcome?: OutcomeOptions | undefined;
  readonly model?: VaultModel | undefined;
  readonly sizing?: Partial<SizingSettings> | undefined;
  readonly limits?: Partial<PlanLimits> | undefined;
}
