import { CalculationError } from '../calculation-error.js';
import { studentTwoSided } from '../outcomes/distributions.js';
import { wilsonInterval, type Proportion } from '../outcomes/wilson.js';
import { modelledVaultUm, requireVaultModel, type VaultModel } from '../sizing/vault-model.js';
import { normalQuantile } from '../uncertainty/normal.js';
import { addSums, regressionSums } from './regression-sums.js';
import {
  DEFAULT_VAULT_TRUST,
  learnVault,
  predictLearnedVault,
  vaultRow,
  vaultSums,
  type ClinicVaultSums,
  type VaultObservation,
  type VaultPrediction,
  type VaultTrust,
} from './vault-learning.js';

/** A vault that was predicted without knowing it, and what was measured. */
export interface CheckedVault extends VaultPrediction {
  readonly measuredUm: number;
  /** What the starting model said. */
  readonly startUm: number;
  /** Chance that a vault lies farther from the prediction than this one, 0 to 1; even if the model is right. */
  readonly farther: number;
}

/** How well predictions did. */
export interface VaultCheck {
  readonly eyes: readonly CheckedVault[];
  /** For each level, the share of eyes within the interval of that level. */
  readonly coverage: readonly (Proportion & { readonly level: number })[];
  /** Root mean square of measured less predicted, for the learned and for the starting model. */
  readonly learnedErrorUm: number;
  readonly startErrorUm: number;
}

const LEVELS = [0.5, 0.8, 0.9] as const;

/**
 * Predicts each eye from all others: what a leave-one-out plot shows. Two eyes or more.
 * Throws CalculationError for fewer, and for an eye that lacks what the model needs.
 * @source Stone. J R Stat Soc B 1974;36:111-147 (cross-validation; from memory)
 * @example leaveOneOutVault(model, eyes).learnedErrorUm
 */
export function leaveOneOutVault(
  start: VaultModel,
  observations: readonly VaultObservation[],
  trust: VaultTrust = DEFAULT_VAULT_TRUST,
): VaultCheck {
  requireEyes(observations, 2);
  const given = vaultSums(start, observations);
  return summarise(observations.map((seen) => checked(start, seen, less(given, start, seen), trust)));
}

/**
 * Predicts each eye from those before it, in the order given: whether intervals would have held had the model been
 * in use all along. Two eyes or more. Throws CalculationError for fewer, and for an eye that lacks what is needed.
 * @source Dawid. J R Stat Soc A 1984;147:278-292 (prequential analysis; from memory)
 * @example prequentialVault(model, eyes).coverage[2].share // of the 90 % intervals
 */
export function prequentialVault(
  start: VaultModel,
  observations: readonly VaultObservation[],
  trust: VaultTrust = DEFAULT_VAULT_TRUST,
): VaultCheck {
  requireEyes(observations, 2);
  let known: ClinicVaultSums[] = [];
  return summarise(
    observations.map((seen) => {
      const eye = checked(start, seen, known, trust);
      known = more(known, start, seen);
      return eye;
    }),
  );
}

/** How well a model does as it stands, on eyes that it may have been learned from. */
export interface StandingCheck {
  readonly errorUm: number;
  readonly coverage: VaultCheck['coverage'];
}

/**
 * Holds measured vaults against a model as it stands, with normal limits by its spread. Eyes that it was learned from
 * flatter it. Two eyes or more. Throws CalculationError for fewer, and for an eye that lacks what is needed.
 * @source none: root mean square and counted shares
 * @example standingVault(model, eyes).errorUm
 */
export function standingVault(model: VaultModel, observations: readonly VaultObservation[]): StandingCheck {
  requireEyes(observations, 2);
  requireVaultModel(model);
  const errors = observations.map(
    ({ eye, lengthMm, vaultUm }) => vaultUm - modelledVaultUm(eye, lengthMm, model),
  );
  return {
    errorUm: Math.sqrt(errors.reduce((sum, error) => sum + error * error, 0) / errors.length),
    coverage: LEVELS.map((level) => {
      const reach = normalQuantile((1 + level) / 2) * model.residualSdUm;
      return {
        level,
        ...wilsonInterval(errors.filter((error) => Math.abs(error) <= reach).length, errors.length),
      };
    }),
  };
}

function requireEyes(observations: readonly unknown[], least: number): void {
  if (observations.length >= least) return;
  throw new CalculationError('input.missing', 'observations', observations.length, `at least ${least} eyes`);
}

function checked(
  start: VaultModel,
  seen: VaultObservation,
  given: readonly ClinicVaultSums[],
  trust: VaultTrust,
): CheckedVault {
  const found = predictLearnedVault(learnVault(start, given, trust), seen.eye, seen.lengthMm, seen.clinic);
  const df = found.degreesOfFreedom;
  const scale = found.sdUm * Math.sqrt((df - 2) / df);
  return {
    ...found,
    measuredUm: seen.vaultUm,
    startUm: modelledVaultUm(seen.eye, seen.lengthMm, start),
    farther: studentTwoSided((seen.vaultUm - found.vaultUm) / scale, df),
  };
}

function rowSums(start: VaultModel, seen: VaultObservation) {
  const row = vaultRow(start, seen);
  return regressionSums(row.x.length, [row]);
}

function less(
  given: readonly ClinicVaultSums[],
  start: VaultModel,
  seen: VaultObservation,
): ClinicVaultSums[] {
  return given
    .map(({ clinic, sums }) => ({
      clinic,
      sums: clinic === seen.clinic ? addSums(sums, rowSums(start, seen), -1) : sums,
    }))
    .filter(({ sums }) => sums.n > 0);
}

function more(
  given: readonly ClinicVaultSums[],
  start: VaultModel,
  seen: VaultObservation,
): ClinicVaultSums[] {
  const own = rowSums(start, seen);
  if (given.every(({ clinic }) => clinic !== seen.clinic))
    return [...given, { clinic: seen.clinic, sums: own }];
  return given.map(({ clinic, sums }) => ({
    clinic,
    sums: clinic === seen.clinic ? addSums(sums, own) : sums,
  }));
}

function summarise(eyes: readonly CheckedVault[]): VaultCheck {
  const rms = (errors: readonly number[]): number =>
    Math.sqrt(errors.reduce((sum, error) => sum + error * error, 0) / errors.length);
  return {
    eyes,
    coverage: LEVELS.map((level) => ({
      level,
      ...wilsonInterval(eyes.filter(({ farther }) => farther >= 1 - level).length, eyes.length),
    })),
    learnedErrorUm: rms(eyes.map(({ measuredUm, vaultUm }) => measuredUm - vaultUm)),
    startErrorUm: rms(eyes.map(({ measuredUm, startUm }) => measuredUm - startUm)),
  };
}
