import { requireNumber } from '../calculation-error.js';
import { MEASURED_VAULT_UM } from './sizing-eye.js';
import type { Reason } from './vault-basis.js';
import { requireBands, VAULT_BANDS, type VaultBands } from './vault-bands.js';

/** Light in which a vault was measured: bright light narrows the pupil and lowers the vault. */
export type Lighting = 'bright' | 'dim' | 'unknown';

/** A vault measured after surgery. */
export interface VaultVisit {
  readonly vaultUm: number;
  readonly daysSinceSurgery: number;
  readonly lighting?: Lighting | undefined;
  readonly device?: string | undefined;
}

/** Limits by which a measured vault is judged. */
export interface VaultJudgement {
  readonly bands: VaultBands;
  /** Below this the vault is an alert (from memory). */
  readonly alertBelowUm: number;
  /** Above this the vault is an alert (common practice, no source). */
  readonly alertAboveUm: number;
  /** Before this day the vault still settles. */
  readonly settledFromDay: number;
  /** How much lower a vault may be in bright than in dim light (common practice, no source). */
  readonly brightFallUm: number;
}

/** Days since surgery, a hundred years at most. */
export const DAYS = { min: 0, max: 36500, unit: 'days' };

/** Defaults: bands as published, judged from month 1 (Ophthalmology 2010;117:1506). */
export const DEFAULT_VAULT_JUDGEMENT: VaultJudgement = {
  bands: VAULT_BANDS,
  alertBelowUm: 100,
  alertAboveUm: 1000,
  settledFromDay: 28,
  brightFallUm: 100,
};

/** The band a measured vault lies in and how urgent that is. */
export interface JudgedVault {
  readonly band: 'low' | 'intended' | 'high';
  readonly alert: boolean;
  /** `fine`, `caution`, or `stop` for an alert. */
  readonly level: 'fine' | 'caution' | 'stop';
  /** Whether the vault had settled when it was measured. */
  readonly settled: boolean;
  readonly reasons: readonly Reason[];
}

/**
 * Judges one measured vault by its band, the age of the surgery and the lighting.
 * Throws CalculationError for a vault outside 0 to 3000 µm or a negative day.
 * @source bands J Refract Surg 2010;26:327; vault over time Ophthalmology 2010;117:1506
 * @example judgeVault({ vaultUm: 860, daysSinceSurgery: 35 }).band // 'high'
 */
export function judgeVault(visit: VaultVisit, judgement: Partial<VaultJudgement> = {}): JudgedVault {
  const limits: VaultJudgement = { ...DEFAULT_VAULT_JUDGEMENT, ...judgement };
  requireVisit('', visit);
  requireJudgement(limits);
  const { vaultUm, daysSinceSurgery, lighting = 'unknown' } = visit;
  const { lowBelowUm, highAboveUm } = limits.bands;
  const band = vaultUm < lowBelowUm ? 'low' : vaultUm > highAboveUm ? 'high' : 'intended';
  const alert = vaultUm < limits.alertBelowUm || vaultUm > limits.alertAboveUm;
  const settled = daysSinceSurgery >= limits.settledFromDay;
  const reasons: Reason[] = [
    {
      code: alert ? 'vault.alert' : `vault.${band}`,
      message: `${vaultUm.toFixed(0)} µm is ${band === 'intended' ? 'within' : band === 'low' ? 'below' : 'above'} the intended ${lowBelowUm} to ${highAboveUm} µm${alert ? ' and calls for action now' : ''}.`,
    },
  ];
  if (!settled) {
    reasons.push({
      code: 'vault.not-settled',
      message: `Day ${daysSinceSurgery} is early: the vault settles until about day ${limits.settledFromDay}; measure again then.`,
    });
  }
  reasons.push(...lightingReasons(vaultUm, lighting, limits));
  const level = alert ? 'stop' : band === 'intended' ? 'fine' : 'caution';
  return { band, alert, level, settled, reasons };
}

function lightingReasons(vaultUm: number, lighting: Lighting, limits: VaultJudgement): Reason[] {
  const { lowBelowUm, highAboveUm } = limits.bands;
  if (lighting === 'unknown') {
    const message = 'The lighting was not noted; vault is lower in bright light, so visits may not compare.';
    return [{ code: 'vault.lighting-unknown', message }];
  }
  if (lighting === 'dim' && vaultUm >= lowBelowUm && vaultUm - limits.brightFallUm < lowBelowUm) {
    const message = `Measured in dim light; in bright light it may lie below ${lowBelowUm} µm.`;
    return [{ code: 'vault.low-in-bright-light', message }];
  }
  if (lighting === 'bright' && vaultUm <= highAboveUm && vaultUm + limits.brightFallUm > highAboveUm) {
    const message = `Measured in bright light; in dim light it may lie above ${highAboveUm} µm.`;
    return [{ code: 'vault.high-in-dim-light', message }];
  }
  return [];
}

/** Throws CalculationError for limits that cannot be. */
export function requireJudgement(limits: VaultJudgement): void {
  requireBands(limits.bands);
  const { alertBelowUm, alertAboveUm, settledFromDay, brightFallUm } = limits;
  requireNumber('settings.alertBelowUm', alertBelowUm, MEASURED_VAULT_UM);
  requireNumber('settings.alertAboveUm', alertAboveUm, MEASURED_VAULT_UM);
  requireNumber('settings.brightFallUm', brightFallUm, MEASURED_VAULT_UM);
  requireNumber('settings.settledFromDay', settledFromDay, DAYS);
}

/** Throws CalculationError for a visit that cannot be; `prefix` is put before the field. */
export function requireVisit(prefix: string, visit: VaultVisit): void {
  requireNumber(`${prefix}vaultUm`, visit.vaultUm, MEASURED_VAULT_UM);
  requireNumber(`${prefix}daysSinceSurgery`, visit.daysSinceSurgery, DAYS);
}
