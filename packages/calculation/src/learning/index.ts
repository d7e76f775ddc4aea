export * from './regression-sums.js';
export * from './flat-sums.js';
export * from './pooled-vault.js';
export {
  learnRegression,
  predictRegression,
  type LearnedRegression,
  type RegressionBelief,
  type StudentPrediction,
} from './conjugate-regression.js';
export {
  DEFAULT_VAULT_TRUST,
  learnedCoefficients,
  learnedVaultModel,
  learnVault,
  predictLearnedVault,
  vaultSums,
  type ClinicVaultSums,
  type LearnedCoefficient,
  type LearnedVault,
  type VaultObservation,
  type VaultPrediction,
  type VaultTrust,
} from './vault-learning.js';
export * from './vault-checks.js';
export { averageDifferenceUm, averageVault } from './average-eye.js';
export * from './simulate-vault.js';
export * from './refraction-offsets.js';
export * from './apply-offset.js';
