import { requireNumber } from '../calculation-error.js';
import { requireBands, VAULT_BANDS, type VaultBands, type VaultWeights } from './vault-bands.js';
import { CORRELATION } from './vault-model.js';

/** Widths of the eye, best evidence first. */
export const WIDTHS = ['sulcusMm', 'angleToAngleMm', 'whiteToWhiteMm'] as const;

/** A width of the eye. */
export type WidthField = (typeof WIDTHS)[number];

/** How one width stands in for the horizontal sulcus: mean difference and its spread, in mm. */
export interface StandIn {
  readonly addMm: number;
  readonly sdMm: number;
}

/** The rule used when no model fits: vault from length less width, a slope and a spread. */
export interface SizeRule {
  /** How much longer than the sulcus a lens is that comes to the middle of the band. */
  readonly allowanceMm: number;
  readonly middleUm: number;
  readonly slopeUmPerMm: number;
  /** Spread of vault about the rule when the sulcus itself was measured. */
  readonly residualSdUm: number;
}

/** When and by how much a central cone makes the size smaller. */
export interface ConeRule {
  /** A cone no farther than this from the centre is central. */
  readonly centralWithinMm: number;
  /** Steps smaller for a central cone. */
  readonly steps: number;
  /** Steps smaller for a central cone with a Kmax of `steepFromD` or more. */
  readonly steepSteps: number;
  readonly steepFromD: number;
  readonly stepMm: number;
}

/** Settings of size and vault; each is the clinic's own. */
export interface SizingSettings {
  readonly bands: VaultBands;
  readonly weights: VaultWeights;
  readonly rule: SizeRule;
  readonly standIns: Readonly<Record<Exclude<WidthField, 'sulcusMm'>, StandIn>>;
  /** Vertical less horizontal sulcus, where a model wants the vertical one and it was not measured. */
  readonly verticalSulcus: StandIn;
  readonly cone: ConeRule;
  /** Taken off the central chamber depth before a model uses it; 0 leaves it alone. */
  readonly chamberDepthCorrectionMm: number;
  /** Correlation of two vaults of one eye about the model, when the model does not say. */
  readonly withinEyeCorrelation: number;
  /** Published µm of vault per mm of length, least and most, for exchanges. */
  readonly slopesUmPerMm: { readonly least: number; readonly most: number };
}

/** Defaults; the sources are beside each value. */
export const DEFAULT_SIZING_SETTINGS: SizingSettings = {
  bands: VAULT_BANDS,
  // Both sides weigh the same until a clinic decides otherwise (common practice, no source).
  weights: { low: 1, high: 1 },
  rule: {
    // Between what the two published regressions give for a sulcus of 11.6 mm (0.9 and 1.2 mm).
    allowanceMm: 1,
    middleUm: 500,
    // Middle of 375 µm/mm (Front Med 2026, 1762551) and 657 µm/mm (BMC Ophthalmol 2021;21:199).
    slopeUmPerMm: 516,
    // 925 eyes, PMC9714062.
    residualSdUm: 176,
  },
  standIns: {
    // Spread of angle against sulcus: common practice, no source.
    angleToAngleMm: { addMm: 0, sdMm: 0.35 },
    // 95 % within ±1.11 mm (PMC2649749).
    whiteToWhiteMm: { addMm: 0, sdMm: 1.11 / 1.96 },
  },
  // Extremely myopic eyes, Front Med 2026, 1762551.
  verticalSulcus: { addMm: 0.63, sdMm: 0.38 },
  // One to two 0.25 mm steps: common practice, no source; so are the limits.
  cone: { centralWithinMm: 1, steps: 1, steepSteps: 2, steepFromD: 55, stepMm: 0.25 },
  chamberDepthCorrectionMm: 0,
  // Own assumption: 80 µm between readings of one eye against 176 µm between eyes.
  withinEyeCorrelation: 0.8,
  slopesUmPerMm: { least: 375, most: 657 },
};

/**
 * The defaults with a caller's own settings over them; throws CalculationError for what cannot be.
 * @source the defaults carry their sources
 * @example sizingSettings({ weights: { low: 1, high: 2 } }).bands.lowBelowUm // 250
 */
export function sizingSettings(own: Partial<SizingSettings> = {}): SizingSettings {
  const s: SizingSettings = { ...DEFAULT_SIZING_SETTINGS, ...own };
  requireBands(s.bands);
  const mm = { min: -3, max: 3, unit: 'mm' };
  const sd = { min: 0, max: 3, unit: 'mm' };
  const steps = { min: 0, max: 4, unit: 'steps' };
  const slope = { min: 1, max: 5000, unit: 'µm per mm' };
  requireNumber('settings.weights.low', s.weights.low, { min: 0, max: 100, unit: '' });
  requireNumber('settings.weights.high', s.weights.high, { min: 0, max: 100, unit: '' });
  requireNumber('settings.rule.allowanceMm', s.rule.allowanceMm, mm);
  requireNumber('settings.rule.middleUm', s.rule.middleUm, { min: 0, max: 3000, unit: 'µm' });
  requireNumber('settings.rule.slopeUmPerMm', s.rule.slopeUmPerMm, slope);
  requireNumber('settings.rule.residualSdUm', s.rule.residualSdUm, { min: 1, max: 1000, unit: 'µm' });
  for (const width of ['angleToAngleMm', 'whiteToWhiteMm'] as const) {
    requireNumber(`settings.standIns.${width}.addMm`, s.standIns[width].addMm, mm);
    requireNumber(`settings.standIns.${width}.sdMm`, s.standIns[width].sdMm, sd);
  }
  requireNumber('settings.verticalSulcus.addMm', s.verticalSulcus.addMm, mm);
  requireNumber('settings.verticalSulcus.sdMm', s.verticalSulcus.sdMm, sd);
  requireNumber('settings.cone.centralWithinMm', s.cone.centralWithinMm, { ...sd, max: 6 });
  requireNumber('settings.cone.steps', s.cone.steps, steps);
  requireNumber('settings.cone.steepSteps', s.cone.steepSteps, steps);
  requireNumber('settings.cone.steepFromD', s.cone.steepFromD, { min: 30, max: 150, unit: 'D' });
  requireNumber('settings.cone.stepMm', s.cone.stepMm, { min: 0.05, max: 1, unit: 'mm' });
  requireNumber('settings.chamberDepthCorrectionMm', s.chamberDepthCorrectionMm, mm);
  requireNumber('settings.withinEyeCorrelation', s.withinEyeCorrelation, CORRELATION);
  requireNumber('settings.slopesUmPerMm.least', s.slopesUmPerMm.least, slope);
  requireNumber('settings.slopesUmPerMm.most', s.slopesUmPerMm.most, {
    ...slope,
    min: s.slopesUmPerMm.least,
  });
  return s;
}
