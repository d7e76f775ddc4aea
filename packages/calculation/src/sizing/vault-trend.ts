import { requireNumber } from '../calculation-error.js';
import { fitLine } from '../suitability-numbers/fit-line.js';
import {
  DAYS,
  DEFAULT_VAULT_JUDGEMENT,
  requireJudgement,
  requireVisit,
  type VaultJudgement,
  type VaultVisit,
} from './judge-vault.js';
import type { Reason } from './vault-basis.js';

/** How the vault moves over the visits after it has settled. */
export interface VaultTrend {
  readonly verdict: 'steady' | 'falling' | 'rising' | 'not-enough-data';
  /** Slope in µm per year with its 95 % limits; absent without enough data. */
  readonly perYearUm?: { readonly estimate: number; readonly low: number; readonly high: number };
  /** Vault in a year if it goes on, with 95 % limits of the line, in µm. */
  readonly inOneYearUm?: { readonly estimate: number; readonly low: number; readonly high: number };
  readonly visitsUsed: number;
  readonly alerts: readonly Reason[];
}

/** Settings of the trend. */
export interface TrendSettings extends VaultJudgement {
  /** Spread of repeated vaults of one eye, in µm (own assumption: lighting and device). */
  readonly visitSdUm: number;
  /** Least time between first and last settled visit. */
  readonly leastDays: number;
}

/** Published fall, about 28 µm a year on average: 466 to 184 µm in ten years (Ophthalmology 2010;117:1506). */
export const PUBLISHED_FALL_UM_PER_YEAR = -28.2;

/**
 * The trend of the vault over visits from month 1 on, by a line with known measurement spread.
 * It says steady only where a move would have been noticed. Throws CalculationError for a bad visit.
 * @source least squares; published fall Ophthalmology 2010;117:1506
 * @example vaultTrend([{ vaultUm: 520, daysSinceSurgery: 30 }, { vaultUm: 300, daysSinceSurgery: 400 }]).verdict // 'falling'
 */
export function vaultTrend(visits: readonly VaultVisit[], settings: Partial<TrendSettings> = {}): VaultTrend {
  const s: TrendSettings = {
    ...DEFAULT_VAULT_JUDGEMENT,
    visitSdUm: 50,
    leastDays: 60,
    ...settings,
  };
  requireJudgement(s);
  requireNumber('settings.leastDays', s.leastDays, DAYS);
  requireNumber('settings.visitSdUm', s.visitSdUm, { min: 1, max: 1000, unit: 'µm' });
  visits.forEach((visit, i) => requireVisit(`visits[${i}].`, visit));
  const settled = visits.filter((v) => v.daysSinceSurgery >= s.settledFromDay);
  const days = settled.map((v) => v.daysSinceSurgery);
  const span = Math.max(0, ...days) - Math.min(...days, Infinity);
  if (settled.length < 2 || !(span >= s.leastDays)) {
    return { verdict: 'not-enough-data', visitsUsed: settled.length, alerts: [] };
  }
  const line = fitLine(
    settled.map((v) => ({ x: v.daysSinceSurgery / 365.25, y: v.vaultUm })),
    s.visitSdUm,
  );
  const reach = 1.96 * line.slopeSe;
  const perYearUm = { estimate: line.slope, low: line.slope - reach, high: line.slope + reach };
  const inOneYearUm = line.at(Math.max(...days) / 365.25 + 1);
  // Beyond this slope a steady vault would leave half the band within a year.
  const half = (s.bands.highAboveUm - s.bands.lowBelowUm) / 2;
  const verdict =
    perYearUm.high < 0
      ? 'falling'
      : perYearUm.low > 0
        ? 'rising'
        : reach <= half
          ? 'steady'
          : 'not-enough-data';
  const alerts = [...trendAlerts(verdict, inOneYearUm, s), ...mixedLight(settled)];
  return { verdict, perYearUm, inOneYearUm, visitsUsed: settled.length, alerts };
}

function trendAlerts(
  verdict: VaultTrend['verdict'],
  inOneYear: { readonly estimate: number },
  s: TrendSettings,
): Reason[] {
  const value = inOneYear.estimate;
  if (verdict === 'falling' && value < s.alertBelowUm) {
    const message = `At this rate the vault is below ${s.alertBelowUm} µm within a year.`;
    return [{ code: 'vault.falling-to-alert', message }];
  }
  if (verdict === 'falling' && value < s.bands.lowBelowUm) {
    const message = `At this rate the vault is below ${s.bands.lowBelowUm} µm within a year.`;
    return [{ code: 'vault.falling-to-low', message }];
  }
  if (verdict === 'rising' && value > s.bands.highAboveUm) {
    const message = `At this rate the vault is above ${s.bands.highAboveUm} µm within a year.`;
    return [{ code: 'vault.rising-to-high', message }];
  }
  return [];
}

function mixedLight(visits: readonly VaultVisit[]): Reason[] {
  const kinds = new Set(visits.map((v) => v.lighting ?? 'unknown'));
  if (kinds.size === 1 && !kinds.has('unknown')) return [];
  const message =
    'The visits were not all measured in one known light, so part of the change may be the pupil.';
  return [{ code: 'vault.mixed-lighting', message }];
}
