import { CalculationError, requireNumber } from '../calculation-error.js';
import { LENGTH_MM, requireSizingEye, type SizingEye } from './sizing-eye.js';
import { sizingSettings, type SizingSettings, type WidthField } from './sizing-settings.js';
import { vaultBasis, type Reason, type VaultBasis } from './vault-basis.js';
import { vaultForecast, type VaultForecast } from './vault-bands.js';
import type { VaultModel } from './vault-model.js';

/** A length that can be made and the vault it would give. */
export interface SizeForecast extends VaultForecast {
  readonly lengthMm: number;
}

/** Every length that can be made with its vault, the one to take, and why. */
export interface SizeSuggestion {
  /** What the vault rests on. */
  readonly basis: VaultBasis['kind'];
  /** The width of the eye that it rests on. */
  readonly widthField?: WidthField;
  readonly modelId?: string;
  /** Shortest first. */
  readonly sizes: readonly SizeForecast[];
  readonly suggestedLengthMm: number;
  /** Steps taken off for a central cone; 0 when none. */
  readonly coneSteps: number;
  readonly reasons: readonly Reason[];
}

/** What can be made and what to judge it by. */
export interface SizeQuestion {
  readonly lengthsMm: readonly number[];
  readonly model?: VaultModel | undefined;
  readonly settings?: Partial<SizingSettings> | undefined;
}

/**
 * The vault of every length that can be made and the length with the least expected loss: the mean
 * distance outside the intended band, each side weighed by settings. A central cone makes it one or
 * two steps smaller where the size rests on white-to-white or central depth.
 * Throws CalculationError naming field, value and range, and when no width was measured.
 * @source bands J Refract Surg 2010;26:327; cone rule common practice; models carry their own
 * @example suggestSize({ sulcusMm: 11.6 }, { lengthsMm: [12, 12.5, 13] }).suggestedLengthMm // 12.5
 */
export function suggestSize(eye: SizingEye, question: SizeQuestion): SizeSuggestion {
  requireSizingEye(eye);
  const lengthsMm = sortedLengths(question.lengthsMm);
  const settings = sizingSettings(question.settings);
  const basis = vaultBasis(eye, question.model, settings);
  const sizes = lengthsMm.map((lengthMm) => ({
    lengthMm,
    ...vaultForecast(basis.meanUm(lengthMm), basis.sdUm, settings.bands, settings.weights),
  }));
  const best = leastLoss(sizes);
  const cone = coneCut(eye, basis, settings);
  const suggestedLengthMm = cutLength(lengthsMm, best.lengthMm, cone.steps * settings.cone.stepMm);
  const reasons = [
    ...basis.reasons,
    lossReason(best),
    ...endReasons(best, sizes),
    ...cone.reasons,
    ...cutReasons(best.lengthMm, suggestedLengthMm, cone.steps, settings),
  ];
  return {
    basis: basis.kind,
    ...(basis.widthField === undefined ? {} : { widthField: basis.widthField }),
    ...(basis.kind === 'rule' || question.model === undefined ? {} : { modelId: question.model.id }),
    sizes,
    suggestedLengthMm,
    coneSteps: cone.steps,
    reasons,
  };
}

/** The lengths, shortest first and each once; throws CalculationError for none or one that cannot be. */
export function sortedLengths(lengthsMm: readonly number[]): number[] {
  if (lengthsMm.length === 0) {
    throw new CalculationError('input.missing', 'sizesMm', [], 'at least one length in mm');
  }
  lengthsMm.forEach((value, i) => requireNumber(`sizesMm[${i}]`, value, LENGTH_MM));
  return [...new Set(lengthsMm)].sort((a, b) => a - b);
}

function leastLoss(sizes: readonly SizeForecast[]): SizeForecast {
  return sizes.reduce((best, size) => (size.expectedLossUm < best.expectedLossUm ? size : best));
}

function coneCut(
  eye: SizingEye,
  basis: VaultBasis,
  settings: SizingSettings,
): { steps: number; reasons: Reason[] } {
  const { coneDistanceMm, kmaxD } = eye;
  const { cone } = settings;
  if (coneDistanceMm === undefined || coneDistanceMm > cone.centralWithinMm) {
    return { steps: 0, reasons: [] };
  }
  if (basis.measuredPlace || !basis.misledByCone) {
    const evidence =
      eye.sulcusMm !== undefined
        ? 'the sulcus was measured'
        : eye.lensRiseUm !== undefined
          ? 'the lens rise was measured'
          : 'the width was measured at the angle';
    const message = `The cone is central, but ${evidence}, so no step is taken off.`;
    return { steps: 0, reasons: [{ code: 'size.cone-cut-not-needed', message }] };
  }
  const steps = kmaxD !== undefined && kmaxD >= cone.steepFromD ? cone.steepSteps : cone.steps;
  if (steps === 0) return { steps, reasons: [] };
  const message = `The cone is central and the size rests on ${basis.widthField === 'whiteToWhiteMm' ? 'white-to-white' : 'the central chamber depth'}, which makes lenses come out too large: ${steps} ${steps === 1 ? 'step' : 'steps'} of ${cone.stepMm.toFixed(2)} mm smaller (common practice). The vaults shown for the sizes do not know of the cone.`;
  return { steps, reasons: [{ code: 'size.cone-cut', message }] };
}

function cutLength(lengthsMm: readonly number[], bestMm: number, cutMm: number): number {
  const allowed = lengthsMm.filter((length) => length <= bestMm - cutMm + 1e-9);
  return allowed.at(-1) ?? (lengthsMm[0] as number);
}

function lossReason(best: SizeForecast): Reason {
  const percent = (chance: number): string => `${Math.round(chance * 100)} %`;
  return {
    code: 'size.least-loss',
    message: `${best.lengthMm.toFixed(2)} mm has the least expected loss: ${percent(best.low)} low, ${percent(best.intended)} intended, ${percent(best.high)} high.`,
  };
}

function endReasons(best: SizeForecast, sizes: readonly SizeForecast[]): Reason[] {
  const atEnd = best === sizes[0] || best === sizes.at(-1);
  if (!atEnd || best.intended >= 0.5) return [];
  const message = `${best.lengthMm.toFixed(2)} mm is at the end of what can be made and less than half of such eyes come to the intended vault; ask for other lengths.`;
  return [{ code: 'size.end-of-range', message }];
}

function cutReasons(bestMm: number, chosenMm: number, steps: number, settings: SizingSettings): Reason[] {
  const wantedMm = bestMm - steps * settings.cone.stepMm;
  if (steps === 0 || chosenMm <= wantedMm + 1e-9) return [];
  const message = `No length is short enough for the cone rule, which asks for ${wantedMm.toFixed(2)} mm; ${chosenMm.toFixed(2)} mm is the shortest that can be made.`;
  return [{ code: 'size.cone-cut-short', message }];
}
