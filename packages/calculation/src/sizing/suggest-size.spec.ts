import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { refusal } from '../../../../tests/support/refusal.js';
import {
  PUBLISHED_VAULT_MODELS,
  suggestSize,
  vaultForecast,
  VAULT_BANDS,
  type SizingEye,
  type VaultModel,
} from '../index.js';

const lengthsMm = [12, 12.25, 12.5, 12.75, 13, 13.25, 13.5];
const [bothWays, horizontal] = PUBLISHED_VAULT_MODELS;

const codes = (eye: SizingEye, more: object = {}): string[] =>
  suggestSize(eye, { lengthsMm, ...more }).reasons.map((r) => r.code);

describe('a vault forecast', () => {
  it('adds its chances up to 1 and loses least in the middle of the band', () => {
    const mean = fc.double({ min: -500, max: 1500, noNaN: true });
    const sd = fc.double({ min: 20, max: 400, noNaN: true });
    fc.assert(
      fc.property(mean, sd, (meanUm, sdUm) => {
        const f = vaultForecast(meanUm, sdUm, VAULT_BANDS, { low: 1, high: 1 });
        expect(f.low + f.intended + f.high).toBeCloseTo(1, 12);
        const middle = vaultForecast(500, sdUm, VAULT_BANDS, { low: 1, high: 1 });
        expect(f.expectedLossUm).toBeGreaterThanOrEqual(middle.expectedLossUm - 1e-9);
      }),
    );
  });

  it('has the expected loss that adding up a fine grid gives', () => {
    const f = vaultForecast(600, 150, VAULT_BANDS, { low: 2, high: 3 });
    let sum = 0;
    for (let v = -600; v < 1800; v += 0.5) {
      const z = (v - 600) / 150;
      const density = Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI) / 150;
      sum += 0.5 * density * (2 * Math.max(0, 250 - v) + 3 * Math.max(0, v - 750));
    }
    expect(f.expectedLossUm).toBeCloseTo(sum, 3);
  });
});

describe('a size', () => {
  it('rests on the model where everything it needs was measured', () => {
    const eye = { sulcusMm: 11.6, verticalSulcusMm: 12, lensThicknessMm: 3.6 };
    const answer = suggestSize(eye, { lengthsMm, model: bothWays });
    expect(answer.basis).toBe('model');
    expect(answer.modelId).toBe(bothWays.id);
    expect(answer.suggestedLengthMm).toBe(12.75);
    expect(answer.sizes.map((s) => s.lengthMm)).toEqual(lengthsMm);
  });

  it('rests on the model with a stand-in, wider, where one width is missing', () => {
    const full = { sulcusMm: 11.6, verticalSulcusMm: 12.23, lensThicknessMm: 3.6 };
    const { verticalSulcusMm: _gone, ...part } = full;
    const measured = suggestSize(full, { lengthsMm, model: bothWays });
    const stood = suggestSize(part, { lengthsMm, model: bothWays });
    expect(stood.basis).toBe('model-with-stand-in');
    const width = (s: typeof measured): number =>
      (s.sizes[0]?.vaultUm.p90 ?? 0) - (s.sizes[0]?.vaultUm.p10 ?? 0);
    expect(stood.sizes[0]?.vaultUm.p50).toBeCloseTo(measured.sizes[0]?.vaultUm.p50 ?? NaN, 6);
    expect(width(stood)).toBeGreaterThan(width(measured));
  });

  it('rests on the rule where the model does not fit, and says what was missing', () => {
    const answer = suggestSize({ sulcusMm: 11.6 }, { lengthsMm, model: bothWays });
    expect(answer.basis).toBe('rule');
    const reason = answer.reasons.find((r) => r.code === 'size.model-does-not-fit');
    expect(reason?.message).toContain('lensThicknessMm');
  });

  it('takes the best width there is', () => {
    const all = { sulcusMm: 11.6, angleToAngleMm: 11.8, whiteToWhiteMm: 12 };
    expect(suggestSize(all, { lengthsMm }).widthField).toBe('sulcusMm');
    expect(suggestSize({ ...all, sulcusMm: undefined }, { lengthsMm }).widthField).toBe('angleToAngleMm');
    expect(codes({ whiteToWhiteMm: 12 })).toContain('size.white-to-white-only');
  });

  it('grows with the eye and with the weight of a low vault', () => {
    fc.assert(
      fc.property(fc.double({ min: 10.8, max: 12.6, noNaN: true }), (sulcusMm) => {
        const at = (mm: number): number => suggestSize({ sulcusMm: mm }, { lengthsMm }).suggestedLengthMm;
        expect(at(sulcusMm + 0.1)).toBeGreaterThanOrEqual(at(sulcusMm));
      }),
    );
    const weigh = (low: number, high: number): number =>
      suggestSize({ sulcusMm: 11.6 }, { lengthsMm, settings: { weights: { low, high } } }).suggestedLengthMm;
    expect(weigh(20, 1)).toBeGreaterThan(weigh(1, 20));
  });

  it('says when the end of what can be made is not enough', () => {
    expect(suggestSize({ sulcusMm: 10 }, { lengthsMm }).reasons.map((r) => r.code)).toContain(
      'size.end-of-range',
    );
  });
});

describe('a central cone', () => {
  const cone = { coneDistanceMm: 0.5 };
  const plain = suggestSize({ whiteToWhiteMm: 11.7 }, { lengthsMm }).suggestedLengthMm;

  it('takes one step off a size from white-to-white, two when it is steep', () => {
    const one = suggestSize({ whiteToWhiteMm: 11.7, ...cone, kmaxD: 50 }, { lengthsMm });
    const two = suggestSize({ whiteToWhiteMm: 11.7, ...cone, kmaxD: 58 }, { lengthsMm });
    expect([one.coneSteps, one.suggestedLengthMm]).toEqual([1, plain - 0.25]);
    expect([two.coneSteps, two.suggestedLengthMm]).toEqual([2, plain - 0.5]);
    expect(two.reasons.map((r) => r.code)).toContain('size.cone-cut');
  });

  it.each<[string, SizingEye]>([
    ['sulcus', { sulcusMm: 11.7 }],
    ['lens rise', { whiteToWhiteMm: 11.7, lensRiseUm: 100 }],
    ['angle', { angleToAngleMm: 11.7 }],
  ])('takes nothing off where the %s was measured, and says so', (_what, eye) => {
    const answer = suggestSize({ ...eye, ...cone, kmaxD: 58 }, { lengthsMm });
    expect(answer.coneSteps).toBe(0);
    expect(answer.reasons.map((r) => r.code)).toContain('size.cone-cut-not-needed');
  });

  it('takes nothing off when it is not central', () => {
    const answer = suggestSize({ whiteToWhiteMm: 11.7, coneDistanceMm: 2.5, kmaxD: 58 }, { lengthsMm });
    expect([answer.coneSteps, answer.suggestedLengthMm]).toEqual([0, plain]);
  });

  it('takes a step off a model that rests on the central chamber depth', () => {
    const model: VaultModel = {
      id: 'depth',
      version: '1',
      source: 'made up for this test',
      device: 'none',
      interceptUm: -6500,
      coefficients: { lengthMm: 500, anteriorChamberDepthMm: 200 },
      residualSdUm: 150,
    };
    const eye = { anteriorChamberDepthMm: 3.1, angleToAngleMm: 11.7 };
    const before = suggestSize(eye, { lengthsMm, model });
    const after = suggestSize({ ...eye, ...cone }, { lengthsMm, model });
    expect(after.suggestedLengthMm).toBe(before.suggestedLengthMm - 0.25);
    const corrected = suggestSize(eye, { lengthsMm, model, settings: { chamberDepthCorrectionMm: 0.2 } });
    expect(corrected.reasons.map((r) => r.code)).toContain('size.chamber-depth-corrected');
    expect(corrected.sizes[0]?.vaultUm.p50).toBeCloseTo((before.sizes[0]?.vaultUm.p50 ?? NaN) - 40, 9);
    expect(before.reasons.map((r) => r.code)).not.toContain('size.chamber-depth-corrected');
  });

  it('says when no length is short enough', () => {
    const answer = suggestSize({ whiteToWhiteMm: 11, ...cone }, { lengthsMm: [12, 12.5] });
    expect(answer.suggestedLengthMm).toBe(12);
    expect(answer.reasons.map((r) => r.code)).toContain('size.cone-cut-short');
  });
});

describe('a size that cannot be computed', () => {
  it('is refused with its field', () => {
    expect(refusal(() => suggestSize({}, { lengthsMm })).code).toBe('sizing.no-width');
    expect(refusal(() => suggestSize({ sulcusMm: 11.6 }, { lengthsMm: [] })).field).toBe('sizesMm');
    expect(refusal(() => suggestSize({ sulcusMm: 11.6 }, { lengthsMm: [12, NaN] })).field).toBe('sizesMm[1]');
    expect(refusal(() => suggestSize({ sulcusMm: 116 }, { lengthsMm })).field).toBe('sulcusMm');
    const flat = { ...horizontal, coefficients: { sulcusMm: -100 } };
    expect(refusal(() => suggestSize({ sulcusMm: 11.6 }, { lengthsMm, model: flat })).field).toBe(
      'model.coefficients.lengthMm',
    );
    const upside = { bands: { lowBelowUm: 800, highAboveUm: 300 } };
    expect(refusal(() => suggestSize({ sulcusMm: 11.6 }, { lengthsMm, settings: upside })).field).toBe(
      'bands.highAboveUm',
    );
  });
});
