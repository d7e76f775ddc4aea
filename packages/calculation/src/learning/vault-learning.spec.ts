import { describe, expect, it } from 'vitest';
import { CalculationError } from '../calculation-error.js';
import { predictVaultUm, PUBLISHED_VAULT_MODELS } from '../sizing/vault-model.js';
import { DEFAULT_WORLD, simulateVaultLearning } from './simulate-vault.js';
import { leaveOneOutVault, prequentialVault } from './vault-checks.js';
import {
  DEFAULT_VAULT_TRUST,
  learnedCoefficients,
  learnedVaultModel,
  learnVault,
  predictLearnedVault,
  vaultSums,
  type VaultObservation,
} from './vault-learning.js';

const start = PUBLISHED_VAULT_MODELS[1];
/** Eyes whose vault is the start's plus 100 µm, plus 40 at clinic B, give or take. */
const eyes: VaultObservation[] = Array.from({ length: 60 }, (_, i) => {
  const eye = { sulcusMm: 11.3 + (i % 7) * 0.12 };
  const lengthMm = 12.25 + (i % 4) * 0.25;
  const luck = [-120, 60, 90, -80, 50][i % 5] as number;
  const clinic = i % 3 === 0 ? 'B' : 'A';
  const vaultUm = predictVaultUm(eye, lengthMm, start) + 100 + (clinic === 'B' ? 40 : 0) + luck;
  return { clinic, eye, lengthMm, vaultUm };
});
const learned = learnVault(start, vaultSums(start, eyes));

describe('a vault model that learns', () => {
  it('is the starting model, with a wider spread, before it has seen an eye', () => {
    const none = learnVault(start, []);
    expect(predictLearnedVault(none, { sulcusMm: 11.6 }, 12.5).vaultUm).toBeCloseTo(
      predictVaultUm({ sulcusMm: 11.6 }, 12.5, start),
      9,
    );
    const model = learnedVaultModel(none, { version: 'none' });
    expect(model.coefficients.lengthMm).toBeCloseTo(375.487, 9);
    expect(model.residualSdUm).toBeGreaterThan(start.residualSdUm);
  });

  it('moves towards what was measured and grows surer, eye by eye', () => {
    const [few, many] = [8, 60].map((n) => learnVault(start, vaultSums(start, eyes.slice(0, n))));
    const at = (from: typeof learned) => predictLearnedVault(from, { sulcusMm: 11.66 }, 12.6, 'A', 0.9);
    const [early, late] = [at(few as typeof learned), at(many as typeof learned)];
    expect(late.highUm - late.lowUm).toBeLessThan(early.highUm - early.lowUm);
    const truth = predictVaultUm({ sulcusMm: 11.66 }, 12.6, start) + 100;
    expect(Math.abs(late.vaultUm - truth)).toBeLessThan(40);
    expect(predictLearnedVault(learned, { sulcusMm: 11.66 }, 12.6, 'B').vaultUm).toBeGreaterThan(
      late.vaultUm,
    );
  });

  it('is less sure at a clinic that it has not seen', () => {
    const width = (clinic?: string) => {
      const { lowUm, highUm } = predictLearnedVault(learned, { sulcusMm: 11.66 }, 12.6, clinic);
      return highUm - lowUm;
    };
    expect(width('C')).toBeGreaterThan(width('A'));
    expect(width()).toBe(width('C'));
  });

  it('says the same as a linear model for sizing, as a new version that names its start', () => {
    const model = learnedVaultModel(learned, { version: '2026-11', clinic: 'B' });
    const eye = { sulcusMm: 11.45 };
    expect(predictVaultUm(eye, 12.75, model)).toBeCloseTo(
      predictLearnedVault(learned, eye, 12.75, 'B').vaultUm,
      6,
    );
    expect(model.source).toContain('60 eyes of 2 clinics');
    expect(model.version).toBe('2026-11');
  });

  it('lists what was learned, with doubt', () => {
    const lines = learnedCoefficients(learned);
    expect(lines.map(({ of, clinic }) => clinic ?? of)).toEqual(['offset', 'lengthMm', 'sulcusMm', 'A', 'B']);
    expect(lines.every(({ sdUm }) => sdUm > 0)).toBe(true);
  });

  it('predicts each eye from all others exactly as if it had been left out', () => {
    const check = leaveOneOutVault(start, eyes);
    const [first, ...others] = eyes as [VaultObservation, ...VaultObservation[]];
    const without = predictLearnedVault(
      learnVault(start, vaultSums(start, others)),
      first.eye,
      first.lengthMm,
      first.clinic,
    );
    expect(check.eyes[0]?.vaultUm).toBeCloseTo(without.vaultUm, 6);
    expect(check.eyes[0]?.highUm).toBeCloseTo(without.highUm, 6);
    expect(check.learnedErrorUm).toBeLessThan(check.startErrorUm);
  });

  it('checks each eye by those before it, from the start on', () => {
    const check = prequentialVault(start, eyes);
    const [first] = eyes as [VaultObservation, ...VaultObservation[]];
    expect(check.eyes[0]?.vaultUm).toBeCloseTo(predictVaultUm(first.eye, first.lengthMm, start), 9);
    expect(check.coverage.map(({ level }) => level)).toEqual([0.5, 0.8, 0.9]);
    expect(check.coverage[2]?.n).toBe(60);
  });

  it('refuses what cannot be, by name', () => {
    const [first] = eyes as [VaultObservation, ...VaultObservation[]];
    const refusals: (() => unknown)[] = [
      () => vaultSums(start, [{ ...first, eye: {} }]),
      () => vaultSums(start, [{ ...first, vaultUm: -3 }]),
      () => vaultSums(start, [{ ...first, lengthMm: Number.NaN }]),
      () => learnVault(start, [], { ...DEFAULT_VAULT_TRUST, clinicUm: 0 }),
      () => predictLearnedVault(learned, { sulcusMm: 99 }, 12.5),
      () => predictLearnedVault(learned, { sulcusMm: 11.6 }, 12.5, 'A', 1),
      () => leaveOneOutVault(start, [first]),
      () => prequentialVault(start, []),
      () => simulateVaultLearning(DEFAULT_WORLD, -1, 10),
    ];
    for (const refuse of refusals) expect(refuse).toThrow(CalculationError);
  });
});

describe('learning in a world whose truth is known', { timeout: 30_000 }, () => {
  it('comes within a tenth of the truth after 200 eyes, covers, and sizes better than white-to-white', () => {
    const runs = [1, 2, 3].map((seed) => simulateVaultLearning({ ...DEFAULT_WORLD, seed }, 200, 800));
    const mean = (of: (run: (typeof runs)[number]) => number) =>
      runs.reduce((sum, run) => sum + of(run), 0) / runs.length;
    for (const { errorUm } of runs) expect(errorUm.learned).toBeLessThan(1.1 * errorUm.truth);
    expect(mean((run) => run.within90)).toBeGreaterThan(0.87);
    expect(mean((run) => run.within90)).toBeLessThan(0.93);
    expect(mean((run) => run.outsideBand.learned)).toBeLessThan(
      (2 / 3) * mean((run) => run.outsideBand.naive),
    );
    // More than the start alone would have done, else nothing was learned.
    expect(mean((run) => run.outsideBand.learned)).toBeLessThan(mean((run) => run.outsideBand.start));
  });
});
