import { keratometricConversion } from '../optics/corneal-power.js';
import { blurD, powerVector, turnDeg } from '../optics/power-vector.js';
import { subtractCrossed } from '../optics/sphere-cylinder.js';
import type { SphereCylinder } from '../optics/types.js';
import type { SizeSuggestion } from '../sizing/suggest-size.js';
import { sizingSettings } from '../sizing/sizing-settings.js';
import { axisAgreement } from '../suitability-numbers/axis-agreement.js';
import type { ExpectedOutcome } from '../uncertainty/expected-outcome.js';
import {
  DEFAULT_PLAN_LIMITS,
  type Finding,
  type FindingLevel,
  type PlanInput,
  type PlanLimits,
  type PlanSettings,
} from './plan-types.js';

/** What has been computed for the eye by the time findings are made. */
export interface Computed {
  readonly ideal: SphereCylinder;
  readonly left: SphereCylinder | undefined;
  readonly outcome: ExpectedOutcome;
  readonly sizing: SizeSuggestion | undefined;
}

/** Everything the plan of one eye has to say, in the order a surgeon would ask. */
export function planFindings(input: PlanInput, computed: Computed, settings: PlanSettings): Finding[] {
  const limits: PlanLimits = { ...DEFAULT_PLAN_LIMITS, ...settings.limits };
  return [
    depthFinding(input, limits),
    ...kmaxFindings(input, limits),
    ...coneFindings(input, settings),
    axisFinding(input),
    indexFinding(input),
    ONE_REFRACTION,
    ...lensFindings(input, computed, limits),
    outcomeFinding(computed.outcome),
    ...sizeFindings(input, computed.sizing, limits),
    CHECK_WITH_MAKER,
  ];
}

const ONE_REFRACTION: Finding = {
  code: 'refraction.only-one',
  level: 'caution',
  message: 'The plan rests on one refraction; in keratoconus take at least two that agree before ordering.',
};

const CHECK_WITH_MAKER: Finding = {
  code: 'plan.check-with-maker',
  level: 'caution',
  message:
    "Decision support, not a medical device: check the lens with its maker's own method; the surgeon's judgement comes first.",
};

function depthFinding(input: PlanInput, limits: PlanLimits): Finding {
  const depth = input.anteriorChamberDepthMm;
  const value = `Chamber depth from the endothelium is ${depth.toFixed(2)} mm`;
  const { depthStopBelowMm, depthCautionBelowMm, depthDoubtedAboveMm } = limits;
  if (depth < depthStopBelowMm) {
    const message = `${value}, below ${depthStopBelowMm.toFixed(1)} mm: too shallow for a lens in front of the crystalline lens.`;
    return { code: 'eye.depth', level: 'stop', message };
  }
  if (depth < depthCautionBelowMm) {
    const message = `${value}, below ${depthCautionBelowMm.toFixed(1)} mm: shallow.`;
    return { code: 'eye.depth', level: 'caution', message };
  }
  if (depth > depthDoubtedAboveMm) {
    const message = `${value}, above ${depthDoubtedAboveMm.toFixed(1)} mm: make sure it was not measured from the epithelium.`;
    return { code: 'eye.depth', level: 'caution', message };
  }
  return { code: 'eye.depth', level: 'fine', message: `${value}.` };
}

function kmaxFindings(input: PlanInput, limits: PlanLimits): Finding[] {
  const { kmaxD, keratometry } = input;
  if (kmaxD === undefined) return [];
  const value = `Kmax is ${kmaxD.toFixed(1)} D`;
  if (kmaxD < keratometry.steepD) {
    const message = `${value}, below the steep meridian of ${keratometry.steepD.toFixed(1)} D: one of the two is wrong.`;
    return [{ code: 'eye.kmax', level: 'caution', message }];
  }
  const high = kmaxD >= limits.kmaxCautionFromD;
  const message = high
    ? `${value}, ${limits.kmaxCautionFromD} D or more: spectacle acuity and repeat measurements decide.`
    : `${value}.`;
  return [{ code: 'eye.kmax', level: high ? 'caution' : 'fine', message }];
}

function coneFindings(input: PlanInput, settings: PlanSettings): Finding[] {
  const { coneDistanceMm } = input;
  if (coneDistanceMm === undefined) return [];
  const { centralWithinMm } = sizingSettings(settings.sizing).cone;
  const value = `The cone lies ${coneDistanceMm.toFixed(1)} mm from the centre`;
  if (coneDistanceMm > centralWithinMm) {
    const message = `${value}: decentred, which is a caution while acuity with spectacles is good.`;
    return [{ code: 'eye.cone', level: 'caution', message }];
  }
  const message = `${value}: central, so the central chamber looks deeper than the space for the lens.`;
  return [{ code: 'eye.cone', level: 'caution', message }];
}

function axisFinding(input: PlanInput): Finding {
  const a = axisAgreement(input.refraction, input.keratometry);
  const code = 'eye.axis-agreement';
  if (a.verdict === 'no-axis') {
    const message = 'Refraction or cornea has too little cylinder for their axes to be compared.';
    return { code, level: 'fine', message };
  }
  const apart = `Refraction and cornea differ by ${Math.abs(a.differenceDeg).toFixed(0)}° in axis, worth ${a.weightD.toFixed(2)} D`;
  if (a.verdict === 'differ') {
    const message = `${apart}, which is more than measuring noise; decide which to trust, they are not averaged.`;
    return { code, level: 'caution', message };
  }
  return { code, level: 'fine', message: `${apart}: no more than noise or of little weight.` };
}

function indexFinding(input: PlanInput): Finding {
  const used = keratometricConversion(input.keratometry);
  const message =
    used === 'as-given'
      ? 'Corneal powers are used as given, because no keratometric index came with them.'
      : `Corneal readings at index ${input.keratometry.index} were turned into net power with 4/3 (Holladay 1993).`;
  return { code: `keratometry.${used}`, level: 'fine', message };
}

function lensFindings(input: PlanInput, computed: Computed, limits: PlanLimits): Finding[] {
  const { lens } = input;
  if (lens === undefined || computed.left === undefined) return [];
  const target = input.target ?? { sphereD: 0, cylinderD: 0, axisDeg: 0 };
  const blur = blurD(powerVector(subtractCrossed(computed.left, target)));
  const level: FindingLevel =
    blur > limits.leftoverStopAboveD ? 'stop' : blur > limits.leftoverCautionAboveD ? 'caution' : 'fine';
  const findings: Finding[] = [
    {
      code: 'lens.leftover',
      level,
      message: `The lens would leave ${written(computed.left)}, ${blur.toFixed(2)} D from the target as blur.`,
    },
  ];
  const minusAxis = lens.cylinderD > 0 ? lens.axisDeg + 90 : lens.axisDeg;
  const off = Math.abs(turnDeg(computed.ideal.axisDeg, minusAxis));
  // 10° costs a third of the cylinder; below 1 D of it that is lost in the noise.
  if (off > 10 && computed.ideal.cylinderD < -1 && lens.cylinderD !== 0) {
    const message = `The axis of the lens lies ${off.toFixed(0)}° from the one the eye needs; check the eye, the axis and the cylinder form.`;
    findings.push({ code: 'lens.axis', level: off > 30 ? 'stop' : 'caution', message });
  }
  return findings;
}

function outcomeFinding(outcome: ExpectedOutcome): Finding {
  const level = outcome.withinHalfD >= 0.9 ? 'fine' : 'caution';
  return { code: 'outcome.error-likely', level, message: outcome.statement };
}

/** Reasons for a size that a person should look at; the others explain. */
const SIZE_CAUTIONS = new Set([
  'size.white-to-white-only',
  'size.stand-in',
  'size.cone-cut',
  'size.cone-cut-short',
  'size.end-of-range',
  'size.chamber-depth-corrected',
  'size.model-does-not-fit',
  'size.rule',
]);

function sizeFindings(input: PlanInput, sizing: SizeSuggestion | undefined, limits: PlanLimits): Finding[] {
  if (sizing === undefined) {
    const message =
      'No size was computed, because sulcusMm, angleToAngleMm and whiteToWhiteMm are all missing.';
    return [{ code: 'size.no-width', level: 'caution', message }];
  }
  const findings: Finding[] = sizing.reasons.map(({ code, message }) => ({
    code,
    level: SIZE_CAUTIONS.has(code) ? 'caution' : 'fine',
    message,
  }));
  if (input.sizesMm === undefined) {
    const message =
      'The lengths that can be made were not given; steps of 0.25 mm from 11.5 to 14.5 mm were tried.';
    findings.push({ code: 'size.lengths-assumed', level: 'caution', message });
  }
  const chosen = sizing.sizes.find((s) => s.lengthMm === sizing.suggestedLengthMm);
  if (chosen !== undefined) {
    const percent = Math.round(chosen.intended * 100);
    findings.push({
      code: 'size.suggested',
      level: chosen.intended < limits.intendedCautionBelow ? 'caution' : 'fine',
      message: `${chosen.lengthMm.toFixed(2)} mm is suggested; ${percent} of 100 such eyes come to the intended vault.`,
    });
  }
  return findings;
}

function written(value: SphereCylinder): string {
  const d = (x: number): string => `${x < 0 ? '−' : '+'}${Math.abs(x).toFixed(2)}`;
  const { sphereD, cylinderD, axisDeg } = value;
  return cylinderD === 0 ? `${d(sphereD)} D` : `${d(sphereD)} / ${d(cylinderD)} × ${axisDeg.toFixed(0)}°`;
}
