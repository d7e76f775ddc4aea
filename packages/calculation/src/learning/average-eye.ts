import { predictVaultUm, type VaultInput, type VaultModel } from '../sizing/vault-model.js';
import { normalQuantile } from '../uncertainty/normal.js';

/** An average eye: coefficients are learned about it, so that the offset means what it says. */
export const MIDDLE: Readonly<Record<VaultInput, number>> = {
  lengthMm: 12.75,
  whiteToWhiteMm: 11.7,
  sulcusMm: 11.7,
  verticalSulcusMm: 12.15,
  angleToAngleMm: 11.7,
  lensRiseUm: 150,
  lensThicknessMm: 3.7,
  anteriorChamberDepthMm: 3.2,
  kmaxD: 55,
};

/**
 * What a model expects of an average eye at a length, with the limits that 8 in 10 such eyes fall within.
 * Throws CalculationError for a length or a model that cannot be.
 * @source none: the model itself, with normal limits by its spread
 * @example averageVault(PUBLISHED_VAULT_MODELS[1], 12.5).vaultUm // 483.6
 */
export function averageVault(
  model: VaultModel,
  lengthMm: number,
): { vaultUm: number; lowUm: number; highUm: number } {
  const vaultUm = predictVaultUm(MIDDLE, lengthMm, model);
  const reach = normalQuantile(0.9) * model.residualSdUm;
  return { vaultUm, lowUm: vaultUm - reach, highUm: vaultUm + reach };
}

/**
 * How much more vault, in µm, one model expects of an average eye than another; below 0 when it expects less.
 * Throws CalculationError for a model that cannot be.
 * @source none: the models themselves
 * @example averageDifferenceUm(learnedModel, PUBLISHED_VAULT_MODELS[0])
 */
export function averageDifferenceUm(model: VaultModel, from: VaultModel): number {
  return predictVaultUm(MIDDLE, MIDDLE.lengthMm, model) - predictVaultUm(MIDDLE, MIDDLE.lengthMm, from);
}
