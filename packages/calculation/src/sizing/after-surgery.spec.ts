import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { refusal } from '../../../../tests/support/refusal.js';
import { exchangeSize, judgeVault, PUBLISHED_VAULT_MODELS, vaultTrend, type VaultVisit } from '../index.js';

const lengthsMm = [12, 12.25, 12.5, 12.75, 13, 13.25, 13.5, 13.75];

describe('a measured vault', () => {
  const at = (vaultUm: number, more: Partial<VaultVisit> = {}) =>
    judgeVault({ vaultUm, daysSinceSurgery: 40, lighting: 'bright', ...more });

  it('is judged by its band, the limits belonging to the intended one', () => {
    expect([249, 250, 750, 751].map((v) => at(v).band)).toEqual(['low', 'intended', 'intended', 'high']);
    expect([99, 300, 900, 1001].map((v) => at(v).level)).toEqual(['stop', 'fine', 'caution', 'stop']);
  });

  it('is not settled before month 1', () => {
    expect(at(500, { daysSinceSurgery: 7 }).settled).toBe(false);
    expect(at(500, { daysSinceSurgery: 28 }).settled).toBe(true);
  });

  it('is read with its lighting', () => {
    const codes = (v: ReturnType<typeof at>): string[] => v.reasons.map((r) => r.code);
    expect(codes(at(300, { lighting: 'dim' }))).toContain('vault.low-in-bright-light');
    expect(codes(at(700))).toContain('vault.high-in-dim-light');
    expect(codes(at(500, { lighting: undefined }))).toContain('vault.lighting-unknown');
  });

  it('is refused when it cannot be', () => {
    expect(refusal(() => at(-5)).field).toBe('vaultUm');
    expect(refusal(() => at(500, { daysSinceSurgery: NaN })).field).toBe('daysSinceSurgery');
  });
});

describe('the trend of a vault', () => {
  const visits = (...points: [number, number][]): VaultVisit[] =>
    points.map(([daysSinceSurgery, vaultUm]) => ({ daysSinceSurgery, vaultUm, lighting: 'bright' }));

  it('needs two settled visits some time apart', () => {
    expect(vaultTrend([]).verdict).toBe('not-enough-data');
    expect(vaultTrend(visits([1, 700], [400, 500])).verdict).toBe('not-enough-data');
    expect(vaultTrend(visits([30, 700], [60, 500])).verdict).toBe('not-enough-data');
  });

  it('falls, rises or stays', () => {
    const falling = vaultTrend(visits([30, 600], [200, 480], [400, 330]));
    expect(falling.verdict).toBe('falling');
    expect(falling.alerts.map((a) => a.code)).toEqual(['vault.falling-to-alert']);
    expect(falling.perYearUm?.high).toBeLessThan(0);
    expect(vaultTrend(visits([30, 600], [200, 590], [400, 610])).verdict).toBe('steady');
    expect(vaultTrend(visits([30, 500], [400, 790])).alerts.map((a) => a.code)).toEqual([
      'vault.rising-to-high',
    ]);
  });

  it('does not take the settling for a trend', () => {
    const settled = visits([30, 500], [400, 495]);
    const withEarly = [...visits([1, 900], [7, 700]), ...settled];
    expect(vaultTrend(withEarly)).toEqual(vaultTrend(settled));
  });
});

describe('an exchange of size', () => {
  const model = PUBLISHED_VAULT_MODELS[1];
  const eye = { sulcusMm: 11.6 };
  const ask = (vaultUm: number, more: object = {}) =>
    exchangeSize({ currentLengthMm: 13, measuredUm: [vaultUm], lengthsMm, eye, model, ...more });

  it('is the smallest change that reaches the band', () => {
    const answer = ask(980);
    expect(answer.verdict).toBe('smaller');
    const chosen = answer.sizes.find((s) => s.lengthMm === answer.suggestedLengthMm);
    const longer = answer.sizes.find((s) => s.lengthMm === answer.suggestedLengthMm + 0.25);
    expect(chosen?.vaultUm.p50).toBeLessThanOrEqual(750);
    expect(longer?.vaultUm.p50).toBeGreaterThan(750);
  });

  it('predicts with the covariance that two lenses of one eye share', () => {
    // Two jointly normal values of equal spread: mean m + ρ (v - m), variance σ² (1 - ρ²).
    const answer = exchangeSize({
      currentLengthMm: 13,
      measuredUm: [980],
      lengthsMm: [13],
      eye,
      model: { ...model, withinEyeCorrelation: 0.7 },
    });
    const expected = -2286.216 + 375.487 * 13 - 164.416 * 11.6;
    expect(answer.sizes[0]?.vaultUm.p50).toBeCloseTo(expected + 0.7 * (980 - expected), 9);
    expect(answer.sdAfterUm).toBeCloseTo(176 * Math.sqrt(1 - 0.49), 9);
  });

  it('is narrower than before the vault was known, and more so with more readings', () => {
    const one = ask(980);
    const three = exchangeSize({ currentLengthMm: 13, measuredUm: [980, 990, 970], lengthsMm, eye, model });
    expect(one.sdAfterUm).toBeLessThan(one.sdBeforeUm);
    expect(three.sdAfterUm).toBeLessThan(one.sdAfterUm);
  });

  it('is never longer for a higher vault', () => {
    const vault = fc.double({ min: 0, max: 1800, noNaN: true });
    const correlation = fc.double({ min: 0.05, max: 0.95, noNaN: true });
    const lengths = fc.uniqueArray(fc.constantFrom(...lengthsMm), { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(vault, vault, correlation, lengths, fc.boolean(), (a, b, rho, some, known) => {
        const size = (vaultUm: number): number =>
          exchangeSize({
            currentLengthMm: 13,
            measuredUm: [vaultUm],
            lengthsMm: some,
            eye: known ? eye : undefined,
            model: { ...model, withinEyeCorrelation: rho },
          }).suggestedLengthMm;
        expect(size(Math.max(a, b))).toBeLessThanOrEqual(size(Math.min(a, b)));
      }),
      { numRuns: 500 },
    );
  });

  it('keeps a lens whose vault is in the band', () => {
    const answer = ask(520);
    expect([answer.verdict, answer.suggestedLengthMm, answer.reachesBand]).toEqual(['keep', 13, true]);
  });

  it('goes larger for a low vault and says when nothing reaches the band', () => {
    expect(ask(90).verdict).toBe('larger');
    const stuck = ask(1500, { lengthsMm: [12.75] });
    expect(stuck.reachesBand).toBe(false);
    expect(stuck.reasons.map((r) => r.code)).toContain('exchange.band-not-reached');
  });

  it('shows what the published slopes would each suggest', () => {
    const answer = ask(1250);
    expect(answer.bySlope).toHaveLength(3);
    expect(answer.reasons.map((r) => r.code)).toContain('exchange.slope-matters');
    const [least, , most] = answer.bySlope;
    expect(least?.suggestedLengthMm).toBeLessThan(most?.suggestedLengthMm ?? 0);
  });

  it('goes by the measured vault alone where no width is known', () => {
    const answer = exchangeSize({ currentLengthMm: 13, measuredUm: [980], lengthsMm });
    expect(answer.sizes.find((s) => s.lengthMm === 13)?.vaultUm.p50).toBe(980);
    expect(answer.suggestedLengthMm).toBe(12.5);
  });

  it('is refused without a vault or with one that cannot be', () => {
    expect(refusal(() => exchangeSize({ currentLengthMm: 13, measuredUm: [], lengthsMm })).field).toBe(
      'measuredUm',
    );
    expect(refusal(() => ask(-1)).field).toBe('measuredUm[0]');
    expect(refusal(() => ask(500, { currentLengthMm: 130 })).field).toBe('currentLengthMm');
  });
});
