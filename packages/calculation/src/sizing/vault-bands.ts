import { requireNumber } from '../calculation-error.js';
import { normalBelow, normalDensity, normalQuantile } from '../uncertainty/normal.js';
import type { Interval } from '../uncertainty/expected-outcome.js';

/** Limits between low, intended and high vault, in µm. */
export interface VaultBands {
  readonly lowBelowUm: number;
  readonly highAboveUm: number;
}

/**
 * The usual bands.
 * @source J Refract Surg 2010;26:327 (13.9 % below 250, 72.2 % between, 13.9 % above 750)
 */
export const VAULT_BANDS: VaultBands = { lowBelowUm: 250, highAboveUm: 750 };

/** A vault as a normal distribution read against the bands. */
export interface VaultForecast {
  readonly vaultUm: Interval;
  /** Chances, 0 to 1, that add up to 1. */
  readonly low: number;
  readonly intended: number;
  readonly high: number;
  /** Mean µm below the band times its weight, plus mean µm above times its weight. */
  readonly expectedLossUm: number;
}

/** How much a micrometre outside the band weighs on either side. */
export interface VaultWeights {
  readonly low: number;
  readonly high: number;
}

const WEIGHT = { min: 0, max: 100, unit: '' };
const Z90 = normalQuantile(0.9);

/**
 * Quantiles, chances and expected loss of a normally distributed vault; all closed forms.
 * Throws CalculationError for numbers that cannot be; the standard deviation must be above 0.
 * @source partial expectation of the normal distribution; bands J Refract Surg 2010;26:327
 * @example vaultForecast(500, 176, VAULT_BANDS, { low: 1, high: 1 }).intended // 0.845
 */
export function vaultForecast(
  meanUm: number,
  sdUm: number,
  bands: VaultBands,
  weights: VaultWeights,
): VaultForecast {
  requireNumber('meanUm', meanUm, { min: -1e6, max: 1e6, unit: 'µm' });
  requireBands(bands);
  requireNumber('weights.low', weights.low, WEIGHT);
  requireNumber('weights.high', weights.high, WEIGHT);
  requireNumber('sdUm', sdUm, { min: 1e-6, max: 1e5, unit: 'µm' });
  const zLow = (bands.lowBelowUm - meanUm) / sdUm;
  const zHigh = (meanUm - bands.highAboveUm) / sdUm;
  const low = normalBelow(zLow);
  const high = normalBelow(zHigh);
  // E[(b - V)+] of a normal V; the mean shortfall is its partial expectation.
  const shortUm = sdUm * (normalDensity(zLow) + zLow * low);
  const overUm = sdUm * (normalDensity(zHigh) + zHigh * high);
  return {
    vaultUm: { p10: meanUm - Z90 * sdUm, p50: meanUm, p90: meanUm + Z90 * sdUm },
    low,
    intended: Math.max(0, 1 - low - high),
    high,
    expectedLossUm: weights.low * shortUm + weights.high * overUm,
  };
}

/**
 * Throws CalculationError unless low lies below high.
 * @source none: the house rule that impossible input is refused by name
 * @example requireBands({ lowBelowUm: 250, highAboveUm: 750 })
 */
export function requireBands(bands: VaultBands): void {
  requireNumber('bands.lowBelowUm', bands.lowBelowUm, { min: 0, max: 3000, unit: 'µm' });
  requireNumber('bands.highAboveUm', bands.highAboveUm, {
    min: bands.lowBelowUm + 1,
    max: 3000,
    unit: 'µm',
  });
}
