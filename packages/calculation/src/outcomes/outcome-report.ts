import type { VaultBands } from '../sizing/vault-bands.js';
import { VAULT_BANDS } from '../sizing/vault-bands.js';
import type { BootstrapInterval } from './bootstrap.js';
import { describeSample, type SampleSummary } from './describe-sample.js';
import {
  cumulativeAcuityFigure,
  indexFigure,
  linesChangedFigure,
  uncorrectedAgainstCorrectedFigure,
  type CumulativeAcuityFigure,
  type LinesChangedFigure,
  type UncorrectedAgainstCorrectedFigure,
} from './figures-of-acuity.js';
import {
  angleOfErrorFigure,
  correctionIndexFigure,
  doubleAngleFigure,
  intendedInducedFigure,
  successIndexFigure,
  type AngleOfErrorFigure,
  type DoubleAngleFigure,
} from './figures-of-astigmatism.js';
import {
  accuracyFigure,
  attemptedAchievedFigure,
  cylinderFigure,
  stabilityFigure,
  type AccuracyFigure,
  type AttemptedAchievedFigure,
  type CylinderFigure,
  type ScatterFigure,
  type StabilityFigure,
} from './figures-of-refraction.js';
import { judgeEyes, type JudgedEye, type OutcomeEye } from './outcome-eye.js';
import { wilsonInterval, type Proportion } from './wilson.js';

/** Vault at the judged visit against the bands. */
export interface VaultFigure {
  readonly n: number;
  readonly valuesUm: readonly number[];
  readonly summaryUm: SampleSummary;
  readonly low: Proportion;
  readonly intended: Proportion;
  readonly high: Proportion;
}

/** Every standard figure of one group of eyes; a figure is null when no eye has what it needs. */
export interface OutcomeReport {
  readonly eyes: number;
  readonly patients: number;
  /** Eyes left out because they have no refraction that is late enough. */
  readonly tooEarly: number;
  readonly minimumDays: number;
  /** Days after surgery of the judged visits; null without eyes. */
  readonly followUpDays: SampleSummary | null;
  readonly uncorrectedAcuity: CumulativeAcuityFigure | null;
  readonly uncorrectedAgainstCorrected: UncorrectedAgainstCorrectedFigure | null;
  readonly linesChanged: LinesChangedFigure | null;
  readonly attemptedAchieved: AttemptedAchievedFigure | null;
  readonly accuracy: AccuracyFigure | null;
  readonly stability: StabilityFigure | null;
  readonly cylinder: CylinderFigure | null;
  readonly intendedInduced: ScatterFigure | null;
  readonly angleOfError: AngleOfErrorFigure | null;
  readonly astigmatismBefore: DoubleAngleFigure;
  readonly astigmatismAfter: DoubleAngleFigure;
  readonly efficacyIndex: BootstrapInterval | null;
  readonly safetyIndex: BootstrapInterval | null;
  readonly correctionIndex: BootstrapInterval | null;
  readonly successIndex: BootstrapInterval | null;
  readonly vault: VaultFigure | null;
}

/** What a report is made by. */
export interface ReportOptions {
  /** Eyes count from this many days after surgery on. */
  readonly minimumDays: number;
  readonly visitDays?: readonly number[] | undefined;
  readonly bands?: VaultBands | undefined;
}

/**
 * The standard figures of refractive-surgery journals for a group of eyes. Both eyes of a patient count as if they
 * were independent; `patients` says how far that is from the truth.
 * Throws CalculationError for a number that cannot be, and for two eyes with one id.
 * @source Waring. J Refract Surg 2000;16:459-466; Reinstein, Archer & Randleman. J Refract Surg 2014;30 (from memory)
 * @example outcomeReport(eyes, { minimumDays: 365 }).accuracy?.within
 */
export function outcomeReport(eyes: readonly OutcomeEye[], options: ReportOptions): OutcomeReport {
  const { judged, tooEarly } = judgeEyes(eyes, options.minimumDays);
  return {
    eyes: judged.length,
    patients: new Set(judged.map(({ eye }) => eye.patient)).size,
    tooEarly,
    minimumDays: options.minimumDays,
    followUpDays: judged.length === 0 ? null : describeSample(judged.map(({ visit }) => visit.daysAfter)),
    uncorrectedAcuity: cumulativeAcuityFigure(judged),
    uncorrectedAgainstCorrected: uncorrectedAgainstCorrectedFigure(judged),
    linesChanged: linesChangedFigure(judged),
    attemptedAchieved: attemptedAchievedFigure(judged),
    accuracy: accuracyFigure(judged),
    stability: eyes.length === 0 ? null : stabilityFigure(eyes, options.visitDays),
    cylinder: cylinderFigure(judged),
    intendedInduced: intendedInducedFigure(judged),
    angleOfError: angleOfErrorFigure(judged),
    astigmatismBefore: doubleAngleFigure(judged, ({ before }) => before),
    astigmatismAfter: doubleAngleFigure(judged, ({ after }) => after),
    efficacyIndex: indexFigure(judged, 'uncorrectedLogMar'),
    safetyIndex: indexFigure(judged, 'correctedLogMar'),
    correctionIndex: correctionIndexFigure(judged),
    successIndex: successIndexFigure(judged),
    vault: vaultFigure(judged, options.bands ?? VAULT_BANDS),
  };
}

/** The vault of an eye at its latest visit that has one, from the judged visit's minimum on. */
function vaultFigure(
  eyes: readonly JudgedEye[],
  { lowBelowUm, highAboveUm }: VaultBands,
): VaultFigure | null {
  const valuesUm = eyes.flatMap(({ eye }) => latestVaultUm(eye) ?? []);
  if (valuesUm.length === 0) return null;
  const share = (of: (vaultUm: number) => boolean): Proportion =>
    wilsonInterval(valuesUm.filter(of).length, valuesUm.length);
  return {
    n: valuesUm.length,
    valuesUm,
    summaryUm: describeSample(valuesUm),
    low: share((vaultUm) => vaultUm < lowBelowUm),
    intended: share((vaultUm) => vaultUm >= lowBelowUm && vaultUm <= highAboveUm),
    high: share((vaultUm) => vaultUm > highAboveUm),
  };
}

/** A vault is judged from month 1 on: before, it still settles (common practice, no source). */
const VAULT_FROM_DAY = 28;

/**
 * The latest vault of an eye from day 28 on; null when there is none. Throws nothing.
 * @source from month 1: common practice, no source
 * @example latestVaultUm(eye) // 480
 */
export function latestVaultUm(eye: OutcomeEye): number | null {
  return (
    eye.visits
      .filter(({ daysAfter, vaultUm }) => vaultUm !== undefined && daysAfter >= VAULT_FROM_DAY)
      .sort((a, b) => a.daysAfter - b.daysAfter)
      .at(-1)?.vaultUm ?? null
  );
}
