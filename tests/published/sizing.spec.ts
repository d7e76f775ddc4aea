import { describe, expect, it } from 'vitest';
import {
  DEFAULT_SIZING_SETTINGS,
  expectedLinesLost,
  exchangeSize,
  LENS_TOLERANCES,
  OUTCOME_SPREADS,
  powerToleranceD,
  predictVaultUm,
  PUBLISHED_FALL_UM_PER_YEAR,
  PUBLISHED_VAULT_MODELS,
  suggestSize,
  VAULT_BANDS,
  vaultForecast,
} from '../../packages/calculation/src/index.js';

const [bothWays, horizontal] = PUBLISHED_VAULT_MODELS;
const eye = { sulcusMm: 11.6, verticalSulcusMm: 12, lensThicknessMm: 3.6 };

describe('published vault regressions', () => {
  it.each([
    // length, vault; BMC Ophthalmol 2021;21:199, 83 eyes at one month
    [12, -22.5],
    [12.5, 306.1],
    [13, 634.6],
    [13.5, 963.2],
  ])('expects %d mm in the published eye at %d µm', (lengthMm, vaultUm) => {
    expect(Math.abs(predictVaultUm(eye, lengthMm, bothWays) - vaultUm)).toBeLessThan(0.051);
  });

  it('keeps the coefficients of the second regression', () => {
    expect(horizontal.coefficients).toEqual({ lengthMm: 375.487, sulcusMm: -164.416 }); // Front Med 2026, 1762551
    expect(horizontal.interceptUm).toBe(-2286.216); // Front Med 2026, 1762551
  });

  it('makes a quarter of a millimetre worth 94 to 164 µm', () => {
    const slopes = PUBLISHED_VAULT_MODELS.map((m) => m.coefficients.lengthMm / 4);
    expect(Math.round(Math.min(...slopes))).toBe(94); // Front Med 2026, 1762551
    expect(Math.round(Math.max(...slopes))).toBe(164); // BMC Ophthalmol 2021;21:199
  });

  it('spreads about its prediction with 95 % limits of ±345 µm', () => {
    expect(Math.abs(1.96 * bothWays.residualSdUm - 345)).toBeLessThan(1); // PMC9714062, 925 eyes
  });
});

describe('vault bands', () => {
  it('lie at 250 and 750 µm', () => {
    expect(VAULT_BANDS).toEqual({ lowBelowUm: 250, highAboveUm: 750 }); // J Refract Surg 2010;26:327
  });

  it('hold the published shares of a vault of 530 ± 250 µm to a few per cent', () => {
    const f = vaultForecast(530, 250, VAULT_BANDS, { low: 1, high: 1 });
    // 13.9 / 72.2 / 13.9 % of eyes, J Refract Surg 2010;26:327; real vaults are narrower than a normal curve
    expect(Math.abs(f.low - 0.139)).toBeLessThan(0.06);
    expect(Math.abs(f.intended - 0.722)).toBeLessThan(0.06);
    expect(Math.abs(f.high - 0.139)).toBeLessThan(0.06);
  });
});

describe('spreads taken from the literature', () => {
  it('lets white-to-white tell the sulcus within ±1.11 mm only', () => {
    expect(1.96 * DEFAULT_SIZING_SETTINGS.standIns.whiteToWhiteMm.sdMm).toBeCloseTo(1.11, 9); // PMC2649749
  });

  it('widens the vault from white-to-white by that spread', () => {
    const question = { lengthsMm: [12.5] };
    const spread = (e: object): number => {
      const [size] = suggestSize(e, question).sizes;
      return ((size?.vaultUm.p90 ?? 0) - (size?.vaultUm.p50 ?? 0)) / 1.2815515655446004;
    };
    expect(spread({ sulcusMm: 11.6 })).toBeCloseTo(176, 6); // PMC9714062: SD 176.2 µm
    expect(spread({ whiteToWhiteMm: 11.6 })).toBeCloseTo(Math.hypot(176, (516 * 1.11) / 1.96), 6); // PMC2649749
  });

  it('refracts keratoconus as published', () => {
    const { refraction } = OUTCOME_SPREADS.keratoconus.spreads;
    expect(refraction).toEqual({ meanD: 0.65, j0D: 0.29, j45D: 0.24 }); // J Ophthalmol 2020;2020:4831298, Sr of 31 eyes
    const wide = OUTCOME_SPREADS['keratoconus-wide'].spreads.refraction;
    expect(wide.meanD * Math.SQRT2).toBeCloseTo(2.91, 2); // Optom Vis Sci 1998;75:887, sphere
    expect(wide.j0D * 2 * Math.SQRT2).toBeCloseTo(1.39, 2); // Optom Vis Sci 1998;75:887, cylinder
  });

  it('lets the vault fall from 466 to 184 µm in ten years', () => {
    expect(PUBLISHED_FALL_UM_PER_YEAR * 10).toBeCloseTo(184 - 466, 6); // Ophthalmology 2010;117:1506
  });
});

describe('tolerances of the lens', () => {
  it.each([
    // power, tolerance; ISO 11979-2 in general words [memory]
    [15, 0.3],
    [-25, 0.4],
    [30, 0.5],
    [-31, 1],
  ])('allow a lens of %d D to be off by %d D', (powerD, toleranceD) => {
    expect(powerToleranceD(powerD)).toBe(toleranceD);
  });

  it('allow the axis mark 5° and the length 0.20 mm', () => {
    expect(LENS_TOLERANCES.axisMarkDeg).toBe(5); // ISO 11979-2 [memory]
    expect(LENS_TOLERANCES.lengthMm).toBe(0.2); // ISO 11979-2 [memory]
  });
});

describe('common practice', () => {
  it('takes one to two steps of 0.25 mm off for a central cone', () => {
    const { steps, steepSteps, stepMm } = DEFAULT_SIZING_SETTINGS.cone;
    expect([steps * stepMm, steepSteps * stepMm]).toEqual([0.25, 0.5]); // common practice, no source
  });

  it('counts a line as 0.1 logMAR', () => {
    expect(expectedLinesLost({ spectaclesLogMar: 0.301, contactLensLogMar: 0.001 }).lines).toBe(3); // Bach, michaelbach.de/sci/acuity.html
  });

  it('shows what the published slopes make of an exchange', () => {
    const answer = exchangeSize({
      currentLengthMm: 13,
      measuredUm: [980],
      lengthsMm: [12, 12.25, 12.5, 12.75],
    });
    expect(answer.bySlope.map((s) => s.slopeUmPerMm)).toEqual([375, 516, 657]); // Front Med 2026; middle; BMC Ophthalmol 2021
  });
});
