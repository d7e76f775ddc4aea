import { CalculationError, requireNumber } from '../calculation-error.js';
import { LENGTH_MM, MEASURED_VAULT_UM, requireSizingEye, type SizingEye } from './sizing-eye.js';
import { sizingSettings, type SizingSettings } from './sizing-settings.js';
import { sortedLengths } from './suggest-size.js';
import { vaultBasis, type Reason } from './vault-basis.js';
import { vaultForecast, type VaultBands, type VaultForecast } from './vault-bands.js';
import type { VaultModel } from './vault-model.js';

/** An eye with a lens in it whose vault was measured, and the lengths it could have instead. */
export interface ExchangeQuestion {
  readonly currentLengthMm: number;
  /** Settled vaults of this lens in this eye. */
  readonly measuredUm: readonly number[];
  readonly lengthsMm: readonly number[];
  /** Measurements from before surgery; without any width the measured vault alone is used. */
  readonly eye?: SizingEye | undefined;
  readonly model?: VaultModel | undefined;
  readonly settings?: Partial<SizingSettings> | undefined;
}

/** A length with the vault this eye would have with it. */
export interface ExchangeForecast extends VaultForecast {
  readonly lengthMm: number;
  readonly changeMm: number;
}

/** What another size would do in this eye. */
export interface ExchangeSuggestion {
  readonly verdict: 'keep' | 'smaller' | 'larger';
  /** The smallest change whose median vault reaches the band, or comes nearest to it. */
  readonly suggestedLengthMm: number;
  readonly reachesBand: boolean;
  readonly sizes: readonly ExchangeForecast[];
  /** The same question answered with the least, middle and most published slope. */
  readonly bySlope: readonly {
    readonly slopeUmPerMm: number;
    readonly suggestedLengthMm: number;
    readonly vaultUm: number;
  }[];
  /** Spread before this eye's own vault was known, and after it, for a lens of the same length. */
  readonly sdBeforeUm: number;
  readonly sdAfterUm: number;
  readonly reasons: readonly Reason[];
}

interface Evidence {
  /** Mean vault at a length, given this eye's own readings. */
  readonly meanUm: (lengthMm: number, slopeUmPerMm: number) => number;
  /** Mean of this eye's readings. */
  readonly measuredUm: number;
  readonly sdUm: number;
  readonly sdBeforeUm: number;
  readonly slopeUmPerMm: number;
  readonly reasons: readonly Reason[];
}

/**
 * The size for an exchange: the model's vault corrected by what this eye itself showed. With
 * residuals of one eye correlated by ρ, the best linear unbiased prediction of the new vault from
 * the mean of k readings is m(L') + b (v̄ - m(L)), b = ρ / (ρ + (1 - ρ)/k), with variance
 * σ² (ρ (1 - b) + 1 - ρ), plus the spread of the slope times the change of length.
 * Throws CalculationError naming field, value and range.
 * @source best linear unbiased prediction: Henderson, Biometrics 1975;31:423-447; slopes
 * BMC Ophthalmol 2021;21:199 and Front Med 2026, 1762551
 * @example exchangeSize({ currentLengthMm: 13, measuredUm: [980], lengthsMm: [12, 12.25, 12.5, 12.75, 13] }).suggestedLengthMm // 12.5
 */
export function exchangeSize(question: ExchangeQuestion): ExchangeSuggestion {
  const { currentLengthMm, eye = {} } = question;
  requireNumber('currentLengthMm', currentLengthMm, LENGTH_MM);
  requireSizingEye(eye);
  const settings = sizingSettings(question.settings);
  const lengthsMm = sortedLengths([...question.lengthsMm, currentLengthMm]);
  const evidence = evidenceOf(question, eye, settings);
  const slopeSd = slopeSpread(settings);
  const meanAt = (lengthMm: number): number => evidence.meanUm(lengthMm, evidence.slopeUmPerMm);
  const sizes = lengthsMm.map((lengthMm) => {
    const changeMm = lengthMm - currentLengthMm;
    const sdUm = Math.hypot(evidence.sdUm, slopeSd * changeMm);
    const forecast = vaultForecast(meanAt(lengthMm), sdUm, settings.bands, settings.weights);
    return { lengthMm, changeMm, ...forecast };
  });
  const allowed = lengthsAllowed(lengthsMm, currentLengthMm, evidence.measuredUm, settings.bands);
  const suggestedLengthMm = smallestChange(allowed, currentLengthMm, meanAt, settings.bands);
  const keepsInBand = allowed.length === 1 && outsideUm(evidence.measuredUm, settings.bands) === 0;
  const reachesBand = keepsInBand || outsideUm(meanAt(suggestedLengthMm), settings.bands) === 0;
  const bySlope = slopesToShow(settings).map((slopeUmPerMm) => {
    const at = (lengthMm: number): number => evidence.meanUm(lengthMm, slopeUmPerMm);
    const chosen = smallestChange(allowed, currentLengthMm, at, settings.bands);
    return { slopeUmPerMm, suggestedLengthMm: chosen, vaultUm: at(chosen) };
  });
  const verdict =
    suggestedLengthMm === currentLengthMm
      ? 'keep'
      : suggestedLengthMm < currentLengthMm
        ? 'smaller'
        : 'larger';
  return {
    verdict,
    suggestedLengthMm,
    reachesBand,
    sizes,
    bySlope,
    sdBeforeUm: evidence.sdBeforeUm,
    sdAfterUm: evidence.sdUm,
    reasons: [
      ...evidence.reasons,
      ...verdictReasons(verdict, suggestedLengthMm, meanAt(suggestedLengthMm), reachesBand),
      ...slopeReasons(bySlope),
    ],
  };
}

function evidenceOf(question: ExchangeQuestion, eye: SizingEye, settings: SizingSettings): Evidence {
  const { currentLengthMm, measuredUm } = question;
  if (measuredUm.length === 0) {
    throw new CalculationError('input.missing', 'measuredUm', [], 'at least one vault in µm');
  }
  measuredUm.forEach((value, i) => requireNumber(`measuredUm[${i}]`, value, MEASURED_VAULT_UM));
  const k = measuredUm.length;
  const measured = measuredUm.reduce((sum, v) => sum + v, 0) / k;
  const hasWidth = [eye.sulcusMm, eye.angleToAngleMm, eye.whiteToWhiteMm].some((w) => w !== undefined);
  if (!hasWidth) return ownVaultOnly(measured, k, currentLengthMm, settings);
  const basis = vaultBasis(eye, question.model, settings);
  const rho = basis.withinEyeCorrelation;
  const b = rho === 0 ? 0 : rho / (rho + (1 - rho) / k);
  const predicted = basis.meanUm(currentLengthMm);
  const centre = predicted + b * (measured - predicted);
  return {
    meanUm: (lengthMm, slope) => centre + slope * (lengthMm - currentLengthMm),
    measuredUm: measured,
    sdUm: basis.sdUm * Math.sqrt(rho * (1 - b) + 1 - rho),
    sdBeforeUm: basis.sdUm,
    slopeUmPerMm: basis.slopeUmPerMm,
    reasons: [
      ...basis.reasons,
      {
        code: 'exchange.own-vault',
        message: `${currentLengthMm.toFixed(2)} mm was expected at ${predicted.toFixed(0)} µm and measured at ${measured.toFixed(0)} µm; ${Math.round(b * 100)} % of the difference is taken as this eye's own.`,
      },
    ],
  };
}

/** Without a width there is no expectation to correct: the reading stands for itself. */
function ownVaultOnly(
  measured: number,
  count: number,
  currentLengthMm: number,
  settings: SizingSettings,
): Evidence {
  const { residualSdUm, slopeUmPerMm } = settings.rule;
  const withinVariance = residualSdUm ** 2 * (1 - settings.withinEyeCorrelation);
  return {
    meanUm: (lengthMm, slope) => measured + slope * (lengthMm - currentLengthMm),
    measuredUm: measured,
    sdUm: Math.sqrt(withinVariance * (1 + 1 / count)),
    sdBeforeUm: residualSdUm,
    slopeUmPerMm,
    reasons: [
      {
        code: 'exchange.own-vault-only',
        message: `No width of the eye is known, so the measured ${measured.toFixed(0)} µm and ${slopeUmPerMm} µm for each mm of length are all there is.`,
      },
    ],
  };
}

/** The published slopes taken as the middle 80 of 100 designs. */
function slopeSpread(settings: SizingSettings): number {
  return (settings.slopesUmPerMm.most - settings.slopesUmPerMm.least) / 2 / 1.2816;
}

function slopesToShow(settings: SizingSettings): number[] {
  const { least, most } = settings.slopesUmPerMm;
  return [...new Set([least, (least + most) / 2, most])];
}

function outsideUm(vaultUm: number, bands: VaultBands): number {
  return Math.max(0, bands.lowBelowUm - vaultUm, vaultUm - bands.highAboveUm);
}

/**
 * A lens that was measured in the band stays; one above it never becomes longer, one below it never
 * shorter, whatever a model says.
 */
function lengthsAllowed(
  lengthsMm: readonly number[],
  currentMm: number,
  measuredUm: number,
  bands: VaultBands,
): number[] {
  if (measuredUm > bands.highAboveUm) return lengthsMm.filter((length) => length <= currentMm);
  if (measuredUm < bands.lowBelowUm) return lengthsMm.filter((length) => length >= currentMm);
  return [currentMm];
}

/** Nearest to the band first, then the smallest change: monotone in the measured vault. */
function smallestChange(
  lengthsMm: readonly number[],
  currentMm: number,
  meanAt: (lengthMm: number) => number,
  bands: VaultBands,
): number {
  return lengthsMm.reduce((best, length) => {
    const gain = outsideUm(meanAt(best), bands) - outsideUm(meanAt(length), bands);
    if (gain !== 0) return gain > 0 ? length : best;
    return Math.abs(length - currentMm) < Math.abs(best - currentMm) ? length : best;
  });
}

function verdictReasons(
  verdict: ExchangeSuggestion['verdict'],
  lengthMm: number,
  vaultUm: number,
  reachesBand: boolean,
): Reason[] {
  const length = `${lengthMm.toFixed(2)} mm`;
  const about = `at about ${vaultUm.toFixed(0)} µm`;
  if (!reachesBand) {
    const message = `No length that can be made reaches the band; ${length} comes nearest, ${about}.`;
    return [{ code: 'exchange.band-not-reached', message }];
  }
  if (verdict === 'keep') {
    const message = `${length} keeps the vault in the band, ${about}; no other size is needed.`;
    return [{ code: 'exchange.keep', message }];
  }
  const message = `${length} is the smallest change that reaches the band, ${about}.`;
  return [{ code: 'exchange.smallest-change', message }];
}

function slopeReasons(bySlope: ExchangeSuggestion['bySlope']): Reason[] {
  const lengths = bySlope.map((s) => s.suggestedLengthMm);
  const [least, most] = [Math.min(...lengths), Math.max(...lengths)];
  if (least === most) return [];
  const message = `Published slopes lead to lengths from ${least.toFixed(2)} to ${most.toFixed(2)} mm; ask the maker for the design's own.`;
  return [{ code: 'exchange.slope-matters', message }];
}
