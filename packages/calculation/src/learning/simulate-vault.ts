import { requireNumber } from '../calculation-error.js';
import { dice } from './dice.js';
import { normalQuantile } from '../uncertainty/normal.js';
import { VAULT_BANDS } from '../sizing/vault-bands.js';
import type { SizingEye } from '../sizing/sizing-eye.js';
import { suggestSize } from '../sizing/suggest-size.js';
import { modelledVaultUm, PUBLISHED_VAULT_MODELS, type VaultModel } from '../sizing/vault-model.js';
import {
  learnedVaultModel,
  learnVault,
  predictLearnedVault,
  vaultSums,
  type VaultObservation,
} from './vault-learning.js';

/** What the simulated world is like; printed with whatever is concluded from it. */
export interface SimulatedWorld {
  readonly seed: number;
  /** How vault really comes about. */
  readonly truth: VaultModel;
  /** What the learning starts from; it may differ from the truth as two publications do. */
  readonly start: VaultModel;
  readonly sulcusMm: { readonly mean: number; readonly sd: number };
  readonly verticalLessHorizontalMm: { readonly mean: number; readonly sd: number };
  readonly whiteToWhiteAboutSulcusSdMm: number;
  readonly lensThicknessMm: { readonly mean: number; readonly sd: number };
  readonly clinics: number;
  readonly clinicSdUm: number;
  readonly lengthsMm: readonly number[];
  /** Learning eyes get the starting model's length, a step shorter or longer in this share of eyes each. */
  readonly strayShare: number;
  /** A lens is this much longer than white-to-white by the naive rule. */
  readonly naiveAllowanceMm: number;
}

/**
 * The truth has the coefficients of one published study; the start has them wrong by a quarter and reads an average eye
 * 120 µm too low, so that lenses come out too large, as they do in keratoconus (common practice).
 */
export const DEFAULT_WORLD: SimulatedWorld = {
  seed: 7,
  truth: PUBLISHED_VAULT_MODELS[0],
  start: {
    ...PUBLISHED_VAULT_MODELS[0],
    id: 'start-put-wrong',
    interceptUm: -251.3,
    coefficients: { lengthMm: 493, sulcusMm: -216, lensThicknessMm: -540, verticalSulcusMm: -103 },
  },
  sulcusMm: { mean: 11.7, sd: 0.45 },
  verticalLessHorizontalMm: { mean: 0.45, sd: 0.3 },
  whiteToWhiteAboutSulcusSdMm: 0.566,
  lensThicknessMm: { mean: 3.7, sd: 0.25 },
  clinics: 4,
  clinicSdUm: 50,
  lengthsMm: [11.5, 11.75, 12, 12.25, 12.5, 12.75, 13, 13.25, 13.5, 13.75, 14],
  strayShare: 0.25,
  naiveAllowanceMm: 1,
};

/** What learning came to in the simulated world. */
export interface SimulatedLearning {
  readonly learnedFrom: number;
  readonly testedOn: number;
  /** Root mean square of vault less prediction, on eyes that were not learned from. */
  readonly errorUm: { readonly start: number; readonly learned: number; readonly truth: number };
  /** Share of new eyes within the 90 % interval. */
  readonly within90: number;
  /** Mean width of that interval. */
  readonly width90Um: number;
  /** Share of new eyes outside 250 to 750 µm, by how their size was chosen. */
  readonly outsideBand: {
    readonly naive: number;
    readonly start: number;
    readonly learned: number;
    readonly truth: number;
  };
}

interface SimulatedEye {
  readonly clinic: string;
  readonly eye: SizingEye;
  readonly whiteToWhiteMm: number;
  /** From 0 to 1: whether the surgeon strays from the model, and which way. */
  readonly habit: number;
  /** What the vault would be at a length: the eye's own luck included. */
  readonly vaultAt: (lengthMm: number) => number;
}

/**
 * Lets a model learn from eyes whose truth is known, then tries it on others, each at the length that the learned
 * model would choose for it. Throws CalculationError for counts outside 0 to 100 000.
 * @source own simulation; each assumption is a field of the world
 * @example simulateVaultLearning(DEFAULT_WORLD, 200, 2000).within90 // near 0.9
 */
export function simulateVaultLearning(
  world: SimulatedWorld,
  learnFrom: number,
  testOn: number,
): SimulatedLearning {
  const count = { min: 0, max: 100_000, unit: 'eyes' };
  requireNumber('learnFrom', learnFrom, count);
  requireNumber('testOn', testOn, { ...count, min: 1 });
  const make = eyeMaker(world);
  const seen = Array.from({ length: learnFrom }, () => operated(world, make()));
  const learned = learnVault(world.start, vaultSums(world.start, seen));
  const modelAt = (clinic: string): VaultModel =>
    learnedVaultModel(learned, { version: 'simulated', clinic });
  const models = new Map(learned.clinics.map((clinic) => [clinic, modelAt(clinic)]));
  const squares = { start: 0, learned: 0, truth: 0 };
  const outside = { naive: 0, start: 0, learned: 0, truth: 0 };
  let [within, width] = [0, 0];
  for (let i = 0; i < testOn; i += 1) {
    const { clinic, eye, whiteToWhiteMm, vaultAt } = make();
    const shift = clinicShift(world, clinic);
    const chosenMm = suggested(world, eye, models.get(clinic) ?? modelAt(clinic));
    const vaultUm = vaultAt(chosenMm);
    const found = predictLearnedVault(learned, eye, chosenMm, clinic, 0.9);
    squares.learned += (vaultUm - found.vaultUm) ** 2;
    squares.start += (vaultUm - modelledVaultUm(eye, chosenMm, world.start)) ** 2;
    squares.truth += (vaultUm - modelledVaultUm(eye, chosenMm, world.truth) - shift) ** 2;
    if (vaultUm >= found.lowUm && vaultUm <= found.highUm) within += 1;
    width += found.highUm - found.lowUm;
    const truth = { ...world.truth, interceptUm: world.truth.interceptUm + shift };
    outside.naive += isOutside(vaultAt(nearest(world.lengthsMm, whiteToWhiteMm + world.naiveAllowanceMm)));
    outside.start += isOutside(vaultAt(suggested(world, eye, world.start)));
    outside.learned += isOutside(vaultUm);
    outside.truth += isOutside(vaultAt(suggested(world, eye, truth)));
  }
  const each = <T extends Record<string, number>>(sums: T, of: (sum: number) => number): T =>
    Object.fromEntries(Object.entries(sums).map(([name, sum]) => [name, of(sum / testOn)])) as T;
  return {
    learnedFrom: learnFrom,
    testedOn: testOn,
    errorUm: each(squares, Math.sqrt),
    within90: within / testOn,
    width90Um: width / testOn,
    outsideBand: each(outside, (share) => share),
  };
}

/** An eye as a practice that goes by the starting model would leave it: what there is to learn from. */
function operated(world: SimulatedWorld, { clinic, eye, habit, vaultAt }: SimulatedEye): VaultObservation {
  const byModel = world.lengthsMm.indexOf(suggested(world, eye, world.start));
  const stray = habit < world.strayShare ? -1 : habit > 1 - world.strayShare ? 1 : 0;
  const lengthMm = world.lengthsMm[byModel + stray] ?? (world.lengthsMm[byModel] as number);
  // A lens that would touch has a vault of nothing, whatever the line says.
  return { clinic, eye, lengthMm, vaultUm: Math.max(0, vaultAt(lengthMm)) };
}

const suggested = ({ lengthsMm }: SimulatedWorld, eye: SizingEye, model: VaultModel): number =>
  suggestSize(eye, { lengthsMm, model }).suggestedLengthMm;

const nearest = (lengthsMm: readonly number[], wantedMm: number): number =>
  lengthsMm.reduce((best, length) =>
    Math.abs(length - wantedMm) < Math.abs(best - wantedMm) ? length : best,
  );

const isOutside = (vaultUm: number): number =>
  Number(vaultUm < VAULT_BANDS.lowBelowUm || vaultUm > VAULT_BANDS.highAboveUm);

/** Clinics lie evenly over their distribution, so that no draw of four is a lucky one. */
function clinicShift(world: SimulatedWorld, clinic: string): number {
  return world.clinicSdUm * normalQuantile((Number(clinic) + 0.5) / world.clinics);
}

function eyeMaker(world: SimulatedWorld): () => SimulatedEye {
  const next = dice(world.seed);
  const normal = (mean: number, sd: number): number => mean + sd * normalQuantile(next());
  return () => {
    const sulcusMm = normal(world.sulcusMm.mean, world.sulcusMm.sd);
    const { mean, sd } = world.verticalLessHorizontalMm;
    const eye = {
      sulcusMm,
      verticalSulcusMm: sulcusMm + normal(mean, sd),
      lensThicknessMm: normal(world.lensThicknessMm.mean, world.lensThicknessMm.sd),
    };
    const whiteToWhiteMm = normal(sulcusMm, world.whiteToWhiteAboutSulcusSdMm);
    const clinic = String(Math.floor(next() * world.clinics));
    const luck = normal(clinicShift(world, clinic), world.truth.residualSdUm);
    const vaultAt = (lengthMm: number): number => modelledVaultUm(eye, lengthMm, world.truth) + luck;
    return { clinic, eye, whiteToWhiteMm, habit: next(), vaultAt };
  };
}
