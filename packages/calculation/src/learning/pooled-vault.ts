import { CalculationError } from '../calculation-error.js';
import type { VaultInput, VaultModel } from '../sizing/vault-model.js';
import { MIDDLE } from './average-eye.js';
import { regressionSums, type RegressionSums } from './regression-sums.js';
import { vaultRow, type VaultObservation } from './vault-learning.js';

/**
 * Sums of eyes' measured vaults on a model's inputs, free of the model's coefficients: a clinic can give them once,
 * and any later version of the model with the same inputs can learn from them.
 * Throws CalculationError for an eye that lacks what the model needs.
 * @source sufficient statistics of the normal linear model
 * @example measuredVaultSums(model, eyes).n
 */
export function measuredVaultSums(
  model: VaultModel,
  observations: readonly Omit<VaultObservation, 'clinic'>[],
): RegressionSums {
  const width = Object.keys(model.coefficients).length + 1;
  return regressionSums(
    width,
    observations.map((seen) => ({ x: vaultRow(model, seen).x, y: seen.vaultUm })),
  );
}

/**
 * Those sums as `learnVault` wants them: of what a starting model leaves unexplained.
 * Throws CalculationError when the sums are of another number of inputs than the model's.
 * @source y' = y - xb: xy' = xy - xx b, yy' = yy - 2 b xy + b xx b
 * @example unexplainedVaultSums(model, measuredVaultSums(model, eyes)) // as vaultSums gives them for one clinic
 */
export function unexplainedVaultSums(start: VaultModel, { n, xx, xy, yy }: RegressionSums): RegressionSums {
  const inputs = Object.entries(start.coefficients) as [VaultInput, number][];
  if (xy.length !== inputs.length + 1)
    throw new CalculationError(
      'input.contradiction',
      'sums.xy',
      xy,
      `a list of ${inputs.length + 1} numbers`,
    );
  const average = inputs.reduce((sum, [field, slope]) => sum + slope * MIDDLE[field], start.interceptUm);
  const b = [average, ...inputs.map(([, slope]) => slope)];
  const xxb = xx.map((row) => row.reduce((sum, value, j) => sum + value * (b[j] as number), 0));
  const dot = (one: readonly number[]): number =>
    one.reduce((sum, value, i) => sum + value * (b[i] as number), 0);
  return {
    n,
    xx,
    xy: xy.map((value, i) => value - (xxb[i] as number)),
    yy: Math.max(0, yy - 2 * dot(xy) + dot(xxb)),
  };
}
