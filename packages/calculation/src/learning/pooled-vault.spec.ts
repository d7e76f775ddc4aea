import { describe, expect, it } from 'vitest';
import { CalculationError } from '../calculation-error.js';
import { predictVaultUm, PUBLISHED_VAULT_MODELS } from '../sizing/vault-model.js';
import { flatSums, sumsOf } from './flat-sums.js';
import { measuredVaultSums, unexplainedVaultSums } from './pooled-vault.js';
import { learnedCoefficients, learnVault, vaultSums } from './vault-learning.js';

const start = PUBLISHED_VAULT_MODELS[1];
const eyes = Array.from({ length: 30 }, (_, i) => {
  const eye = { sulcusMm: 11.2 + (i % 7) * 0.13 };
  const lengthMm = 12.25 + (i % 4) * 0.25;
  return {
    clinic: 'A',
    eye,
    lengthMm,
    vaultUm: predictVaultUm(eye, lengthMm, start) + 90 + ((i * 37) % 120),
  };
});

describe('a vault model learned from what clinics pool', () => {
  it('is the one learned from the eyes themselves', () => {
    const given = sumsOf(flatSums(measuredVaultSums(start, eyes)));
    const pooled = learnVault(start, [{ clinic: 'A', sums: unexplainedVaultSums(start, given) }]);
    const own = learnedCoefficients(learnVault(start, vaultSums(start, eyes)));
    learnedCoefficients(pooled).forEach(({ nowUm, sdUm }, i) => {
      expect(nowUm).toBeCloseTo(own[i]?.nowUm as number, 6);
      expect(sdUm).toBeCloseTo(own[i]?.sdUm as number, 6);
    });
  });

  it('serves a later version with the same inputs, and refuses other inputs', () => {
    const later = { ...start, version: 'later', interceptUm: start.interceptUm + 80 };
    const sums = unexplainedVaultSums(later, measuredVaultSums(start, eyes));
    expect(sums.xy[0]).toBeCloseTo(vaultSums(later, eyes)[0]?.sums.xy[0] as number, 6);
    expect(() => unexplainedVaultSums(PUBLISHED_VAULT_MODELS[0], sums)).toThrow(CalculationError);
  });
});
