import { CalculationError } from '../calculation-error.js';
import type { SizingEye } from './sizing-eye.js';
import { WIDTHS, type SizingSettings, type WidthField } from './sizing-settings.js';
import {
  eyeInputs,
  missingInputs,
  modelledVaultUm,
  requireVaultModel,
  type VaultModel,
} from './vault-model.js';

/** A code to switch on and a sentence to read. */
export interface Reason {
  readonly code: string;
  readonly message: string;
}

/** What the expected vault rests on, worked out once for an eye. */
export interface VaultBasis {
  /** The design's model, the same with a stand-in for a missing measurement, or the rule. */
  readonly kind: 'model' | 'model-with-stand-in' | 'rule';
  readonly widthField?: WidthField;
  readonly slopeUmPerMm: number;
  /** Mean vault at a length, in µm. */
  readonly meanUm: (lengthMm: number) => number;
  readonly sdUm: number;
  readonly withinEyeCorrelation: number;
  /** Whether a measured sulcus or lens rise tells where the lens will rest, so that no cone rule is needed. */
  readonly measuredPlace: boolean;
  /** Whether the size rests on white-to-white or on the central chamber depth. */
  readonly misledByCone: boolean;
  readonly reasons: readonly Reason[];
}

/**
 * Chooses the best evidence that the eye has: the model on its own measurements, the model with a
 * stand-in of known spread, or the rule on the best width. Throws CalculationError without any width.
 */
export function vaultBasis(
  eye: SizingEye,
  model: VaultModel | undefined,
  settings: SizingSettings,
): VaultBasis {
  if (model === undefined) return fromRule(eye, settings, []);
  requireVaultModel(model);
  return fromModel(eye, model, settings) ?? fromRule(eye, settings, [doesNotFit(eye, model)]);
}

function fromModel(eye: SizingEye, model: VaultModel, settings: SizingSettings): VaultBasis | undefined {
  const reasons: Reason[] = [
    {
      code: 'size.model',
      message: `Vault by the model ${model.id}, version ${model.version} (${model.source}), for ${model.device}.`,
    },
  ];
  const used: Record<string, number | undefined> = { ...eye };
  let variance = model.residualSdUm ** 2;
  let widthField: WidthField | undefined = WIDTHS.find((w) => eyeInputs(model).includes(w));
  let standIn = false;
  for (const field of missingInputs(eye, model)) {
    const found = standInFor(field, eye, used, settings);
    if (found === undefined) return undefined;
    standIn = true;
    used[field] = found.value;
    const sdUm = Math.abs(model.coefficients[field as 'sulcusMm'] ?? 0) * found.sdMm;
    variance += sdUm ** 2;
    if (field === 'sulcusMm') widthField = found.from as WidthField;
    reasons.push(standInReason(field, found, sdUm));
  }
  const correction = settings.chamberDepthCorrectionMm;
  const usesDepth = model.coefficients.anteriorChamberDepthMm !== undefined;
  if (usesDepth && correction !== 0) {
    used['anteriorChamberDepthMm'] = (eye.anteriorChamberDepthMm ?? 0) - correction;
    reasons.push({
      code: 'size.chamber-depth-corrected',
      message: `The central chamber depth was taken ${correction.toFixed(2)} mm shallower, by setting; published differences in keratoconus disagree.`,
    });
  }
  const at = used as SizingEye;
  return {
    kind: standIn ? 'model-with-stand-in' : 'model',
    ...(widthField === undefined ? {} : { widthField }),
    slopeUmPerMm: model.coefficients.lengthMm ?? 0,
    meanUm: (lengthMm) => modelledVaultUm(at, lengthMm, model),
    sdUm: Math.sqrt(variance),
    withinEyeCorrelation: model.withinEyeCorrelation ?? settings.withinEyeCorrelation,
    measuredPlace: hasMeasuredPlace(eye),
    misledByCone: usesDepth || widthField === 'whiteToWhiteMm',
    reasons,
  };
}

function fromRule(eye: SizingEye, settings: SizingSettings, before: Reason[]): VaultBasis {
  const widthField = WIDTHS.find((field) => eye[field] !== undefined);
  if (widthField === undefined) {
    throw new CalculationError(
      'sizing.no-width',
      'sulcusMm',
      undefined,
      'measured, or angleToAngleMm, or whiteToWhiteMm',
      'No width of the eye was given, so no size can be computed; measure sulcusMm, angleToAngleMm or whiteToWhiteMm.',
    );
  }
  const { rule } = settings;
  const standIn = widthField === 'sulcusMm' ? NOTHING : settings.standIns[widthField];
  const widthMm = (eye[widthField] ?? 0) + standIn.addMm;
  const addedUm = rule.slopeUmPerMm * standIn.sdMm;
  const reasons = [...before, ruleReason(widthField, settings)];
  if (widthField === 'whiteToWhiteMm') reasons.push(whiteToWhiteOnly(addedUm));
  return {
    kind: 'rule',
    widthField,
    slopeUmPerMm: rule.slopeUmPerMm,
    meanUm: (lengthMm) => rule.middleUm + rule.slopeUmPerMm * (lengthMm - widthMm - rule.allowanceMm),
    sdUm: Math.hypot(rule.residualSdUm, addedUm),
    withinEyeCorrelation: settings.withinEyeCorrelation,
    measuredPlace: hasMeasuredPlace(eye),
    misledByCone: widthField === 'whiteToWhiteMm',
    reasons,
  };
}

const NOTHING = { addMm: 0, sdMm: 0 };

function hasMeasuredPlace(eye: SizingEye): boolean {
  return eye.sulcusMm !== undefined || eye.lensRiseUm !== undefined;
}

interface FoundStandIn {
  readonly from: string;
  readonly value: number;
  readonly sdMm: number;
}

function standInFor(
  field: string,
  eye: SizingEye,
  used: Record<string, number | undefined>,
  settings: SizingSettings,
): FoundStandIn | undefined {
  if (field === 'verticalSulcusMm' && used['sulcusMm'] !== undefined) {
    const { addMm, sdMm } = settings.verticalSulcus;
    return { from: 'sulcusMm', value: used['sulcusMm'] + addMm, sdMm };
  }
  if (field !== 'sulcusMm') return undefined;
  for (const from of ['angleToAngleMm', 'whiteToWhiteMm'] as const) {
    const value = eye[from];
    if (value === undefined) continue;
    const { addMm, sdMm } = settings.standIns[from];
    return { from, value: value + addMm, sdMm };
  }
  return undefined;
}

function standInReason(field: string, found: FoundStandIn, sdUm: number): Reason {
  if (found.from === 'whiteToWhiteMm') return whiteToWhiteOnly(sdUm);
  return {
    code: 'size.stand-in',
    message: `${field} was not measured; ${found.from} stands in for it, which adds ${sdUm.toFixed(0)} µm of spread.`,
  };
}

function whiteToWhiteOnly(addedUm: number): Reason {
  return {
    code: 'size.white-to-white-only',
    message: `Only white-to-white was measured; it predicts the sulcus within ±1.11 mm (PMC2649749), which adds ${addedUm.toFixed(0)} µm of spread.`,
  };
}

function ruleReason(widthField: WidthField, settings: SizingSettings): Reason {
  const { allowanceMm, middleUm, slopeUmPerMm } = settings.rule;
  return {
    code: 'size.rule',
    message: `No vault model was used: by rule a lens ${allowanceMm.toFixed(2)} mm longer than ${widthField} comes to ${middleUm} µm, with ${slopeUmPerMm} µm more for each mm (common practice; slope from published regressions).`,
  };
}

function doesNotFit(eye: SizingEye, model: VaultModel): Reason {
  return {
    code: 'size.model-does-not-fit',
    message: `The model ${model.id} needs ${missingInputs(eye, model).join(', ')}, which was not measured.`,
  };
}
