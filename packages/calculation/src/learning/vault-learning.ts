import { CalculationError, requireNumber } from '../calculation-error.js';
import { studentQuantile } from '../outcomes/distributions.js';
import { LENGTH_MM, MEASURED_VAULT_UM, requireSizingEye, type SizingEye } from '../sizing/sizing-eye.js';
import {
  modelledVaultUm,
  requireVaultModel,
  type VaultInput,
  type VaultModel,
} from '../sizing/vault-model.js';
import {
  coefficientSds,
  learnRegression,
  predictRegression,
  type LearnedRegression,
  type RegressionBelief,
} from './conjugate-regression.js';
import { MIDDLE } from './average-eye.js';
import { addSums, regressionSums, type RegressionRow, type RegressionSums } from './regression-sums.js';

/** One eye whose vault was measured: what it was planned from, the length it got, and what came of it. */
export interface VaultObservation {
  /** Where it was done: clinics differ in devices, lighting and habits. */
  readonly clinic: string;
  readonly eye: SizingEye;
  readonly lengthMm: number;
  readonly vaultUm: number;
}

/** How far a starting model may be wrong, as standard deviations, before any eye was seen. */
export interface VaultTrust {
  /** Of its vault for an average eye. */
  readonly offsetUm: number;
  /** Of each coefficient, as a share of it. */
  readonly slopeShare: number;
  /** Between clinics. */
  readonly clinicUm: number;
  /** How many eyes its stated spread is worth. */
  readonly spreadWorthEyes: number;
}

/**
 * Half the distance of the two published slopes is 0.27 of their mean (375 and 657 µm/mm); they differ by 300 µm for
 * an average eye, so half of that either way. The rest: own assumption.
 */
export const DEFAULT_VAULT_TRUST: VaultTrust = {
  offsetUm: 150,
  slopeShare: 0.3,
  clinicUm: 60,
  spreadWorthEyes: 10,
};

/** What one clinic gives to a pooled model: sums, and no eye. */
export interface ClinicVaultSums {
  readonly clinic: string;
  readonly sums: RegressionSums;
}

/** A vault model after it has seen eyes. */
export interface LearnedVault {
  readonly start: VaultModel;
  readonly trust: VaultTrust;
  readonly inputs: readonly VaultInput[];
  readonly clinics: readonly string[];
  readonly regression: LearnedRegression;
}

/** A predicted vault with its interval. */
export interface VaultPrediction {
  readonly vaultUm: number;
  readonly sdUm: number;
  readonly lowUm: number;
  readonly highUm: number;
  readonly degreesOfFreedom: number;
}

const inputsOf = (model: VaultModel): VaultInput[] => Object.keys(model.coefficients) as VaultInput[];

/** One eye as a row: what the starting model leaves unexplained, on inputs about an average eye. */
export function vaultRow(
  start: VaultModel,
  { eye, lengthMm, vaultUm }: Omit<VaultObservation, 'clinic'>,
): RegressionRow {
  requireNumber('vaultUm', vaultUm, MEASURED_VAULT_UM);
  return { x: vaultInputs(start, eye, lengthMm), y: vaultUm - modelledVaultUm(eye, lengthMm, start) };
}

function vaultInputs(start: VaultModel, eye: SizingEye, lengthMm: number): number[] {
  requireSizingEye(eye);
  requireNumber('lengthMm', lengthMm, LENGTH_MM);
  return [
    1,
    ...inputsOf(start).map((field) => {
      const value = field === 'lengthMm' ? lengthMm : eye[field];
      if (value !== undefined) return value - MIDDLE[field];
      throw new CalculationError('input.missing', field, value, `given for the model ${start.id}`);
    }),
  ];
}

/**
 * The sums that each clinic's eyes come to, in order of the clinics' names. A model learned from these is the one
 * learned from the eyes themselves. Throws CalculationError for an eye that lacks what the model needs.
 * @source sufficient statistics of the normal linear model
 * @example vaultSums(PUBLISHED_VAULT_MODELS[1], [{ clinic: 'A', eye: { sulcusMm: 11.6 }, lengthMm: 12.5, vaultUm: 520 }])[0].sums.n // 1
 */
export function vaultSums(start: VaultModel, observations: readonly VaultObservation[]): ClinicVaultSums[] {
  requireVaultModel(start);
  const rows = new Map<string, RegressionRow[]>();
  for (const seen of observations) {
    const own = rows.get(seen.clinic) ?? [];
    own.push(vaultRow(start, seen));
    rows.set(seen.clinic, own);
  }
  const width = inputsOf(start).length + 1;
  return [...rows]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([clinic, own]) => ({ clinic, sums: regressionSums(width, own) }));
}

/**
 * Learns a vault model from clinics' sums, starting from a published or a maker's model. With no eyes it is that
 * model with a wider spread. Throws CalculationError for a model or a trust that cannot be.
 * @source conjugate normal linear model with random clinic offsets: Gelman et al., Bayesian Data Analysis, 3rd ed. (from memory)
 * @example learnVault(model, vaultSums(model, eyes)).regression.n
 */
export function learnVault(
  start: VaultModel,
  given: readonly ClinicVaultSums[],
  trust: VaultTrust = DEFAULT_VAULT_TRUST,
): LearnedVault {
  requireVaultModel(start);
  requireTrust(trust);
  const inputs = inputsOf(start);
  const clinics = given.map(({ clinic }) => clinic);
  const width = inputs.length + 1 + clinics.length;
  const sums = given.reduce(
    (all, { sums: own }, index) => addSums(all, withClinic(own, inputs.length + 1 + index, width)),
    regressionSums(width, []),
  );
  return {
    start,
    trust,
    inputs,
    clinics,
    regression: learnRegression(belief(start, trust, clinics.length), sums),
  };
}

function requireTrust(trust: VaultTrust): void {
  requireNumber('trust.offsetUm', trust.offsetUm, { min: 0.1, max: 5000, unit: 'µm' });
  requireNumber('trust.slopeShare', trust.slopeShare, { min: 0.001, max: 10, unit: '' });
  requireNumber('trust.clinicUm', trust.clinicUm, { min: 0.1, max: 1000, unit: 'µm' });
  requireNumber('trust.spreadWorthEyes', trust.spreadWorthEyes, { min: 3, max: 10_000, unit: 'eyes' });
}

/** Variances are in units of the residual variance, as the conjugate form wants them. */
function belief(start: VaultModel, trust: VaultTrust, clinicCount: number): RegressionBelief {
  const sds = [
    trust.offsetUm,
    ...inputsOf(start).map(
      (field) => trust.slopeShare * Math.max(Math.abs(start.coefficients[field] ?? 0), 0.01),
    ),
    ...new Array<number>(clinicCount).fill(trust.clinicUm),
  ];
  const shape = trust.spreadWorthEyes / 2;
  return {
    mean: sds.map(() => 0),
    precision: sds.map((sd, i) => sds.map((_, j) => (i === j ? (start.residualSdUm / sd) ** 2 : 0))),
    shape,
    rate: shape * start.residualSdUm ** 2,
  };
}

/** A clinic's sums with a column for the clinic itself, which is 1 in each of its rows. */
function withClinic(own: RegressionSums, column: number, width: number): RegressionSums {
  const narrow = own.xy.length;
  // The first input is 1 for every eye, so its products are the clinic's column.
  const at = (i: number): number | null => (i < narrow ? i : i === column ? 0 : null);
  const index = Array.from({ length: width }, (_, i) => at(i));
  return {
    n: own.n,
    xx: index.map((a) => index.map((b) => (a === null || b === null ? 0 : (own.xx[a]?.[b] as number)))),
    xy: index.map((a) => (a === null ? 0 : (own.xy[a] as number))),
    yy: own.yy,
  };
}

/**
 * The vault that a learned model expects, with the limits that a share `level` of such eyes falls within. A clinic
 * that the model has not seen gets the average and a wider interval.
 * Throws CalculationError for a missing measurement or a number that cannot be.
 * @source Gelman et al., Bayesian Data Analysis, 3rd ed. (from memory)
 * @example predictLearnedVault(learned, { sulcusMm: 11.6 }, 12.5, 'A').vaultUm
 */
export function predictLearnedVault(
  learned: LearnedVault,
  eye: SizingEye,
  lengthMm: number,
  clinic?: string,
  level = 0.8,
): VaultPrediction {
  requireNumber('level', level, { min: 0.01, max: 0.9999, unit: '' });
  const { start, trust, clinics, regression } = learned;
  const known = clinic === undefined ? -1 : clinics.indexOf(clinic);
  const x = [...vaultInputs(start, eye, lengthMm), ...clinics.map((_, i) => (i === known ? 1 : 0))];
  const extra = known === -1 ? (trust.clinicUm / start.residualSdUm) ** 2 : 0;
  const found = predictRegression(regression, x, extra);
  const vaultUm = modelledVaultUm(eye, lengthMm, start) + found.mean;
  const df = found.degreesOfFreedom;
  const reach = studentQuantile((1 + level) / 2, df) * found.scale;
  return {
    vaultUm,
    sdUm: found.scale * Math.sqrt(df / (df - 2)),
    lowUm: vaultUm - reach,
    highUm: vaultUm + reach,
    degreesOfFreedom: df,
  };
}

/**
 * The learned model in the form that sizing uses, for one clinic or for an average one; its spread is the one for an
 * average eye, doubt about the coefficients included. It is a new version: plans keep the one they were made with.
 * Throws CalculationError when what was learned cannot be a vault model (vault that falls with length).
 * @source none: the same numbers written as a linear model
 * @example learnedVaultModel(learned, { version: '2026-11', clinic: 'A' }).residualSdUm
 */
export function learnedVaultModel(
  learned: LearnedVault,
  { version, clinic }: { readonly version: string; readonly clinic?: string | undefined },
): VaultModel {
  const { start, inputs, clinics, regression } = learned;
  const known = clinic === undefined ? -1 : clinics.indexOf(clinic);
  const { mean } = regression;
  const shifts = inputs.map((_, i) => mean[i + 1] as number);
  const own = known === -1 ? 0 : (mean[inputs.length + 1 + known] as number);
  const middle = Object.fromEntries(inputs.map((field) => [field, MIDDLE[field]]));
  const { sdUm } = predictLearnedVault(learned, middle, MIDDLE.lengthMm, clinic);
  const model: VaultModel = {
    ...start,
    id: `${start.id}-learned`,
    version,
    source: `learned from ${regression.n} eyes of ${clinics.length} clinics, starting from ${start.id} ${start.version} (${start.source})`,
    interceptUm:
      start.interceptUm +
      (mean[0] as number) +
      own -
      inputs.reduce((sum, field, i) => sum + (shifts[i] as number) * MIDDLE[field], 0),
    coefficients: Object.fromEntries(
      inputs.map((field, i) => [field, (start.coefficients[field] ?? 0) + (shifts[i] as number)]),
    ),
    residualSdUm: sdUm,
  };
  requireVaultModel(model);
  return model;
}

/** One thing that was learned: what the start said, what is believed now, and how surely. */
export interface LearnedCoefficient {
  readonly of: VaultInput | 'offset' | 'clinic';
  /** The clinic, where it is one's. */
  readonly clinic?: string;
  readonly startUm: number;
  readonly nowUm: number;
  readonly sdUm: number;
}

/**
 * What was learned, one line for the average vault, for each coefficient and for each clinic.
 * Throws nothing that learning has not thrown before.
 * @source Gelman et al., Bayesian Data Analysis, 3rd ed. (from memory)
 * @example learnedCoefficients(learned)[0] // { of: 'offset', startUm: 0, nowUm: 84, sdUm: 21 }
 */
export function learnedCoefficients({
  start,
  inputs,
  clinics,
  regression,
}: LearnedVault): LearnedCoefficient[] {
  const sds = coefficientSds(regression);
  const line = (i: number, startUm: number) => ({
    startUm,
    nowUm: startUm + (regression.mean[i] as number),
    sdUm: sds[i] as number,
  });
  return [
    { of: 'offset', ...line(0, 0) },
    ...inputs.map((of, i) => ({ of, ...line(i + 1, start.coefficients[of] ?? 0) })),
    ...clinics.map((clinic, i) => ({ of: 'clinic' as const, clinic, ...line(inputs.length + 1 + i, 0) })),
  ];
}
