import { describe, expect, it } from 'vitest';
import { refusal } from '../../../../tests/support/refusal.js';
import { lensRangeGaps, rankLenses, type LensRange, type PhakicEye } from '../index.js';

const eye: PhakicEye = {
  refraction: { sphereD: -8, cylinderD: -4, axisDeg: 30, vertexMm: 12 },
  keratometry: { flatD: 46, steepD: 50, steepAxisDeg: 120 },
  anteriorChamberDepthMm: 3.1,
  cornealThicknessUm: 500,
};

describe('a range that a maker can make', () => {
  const range: LensRange = {
    sphere: { minD: -18, maxD: 0, stepD: 0.5 },
    cylinder: { minD: -6, maxD: -0.5, stepD: 0.5 },
    axis: { policy: 'fixed', axesDeg: [0, 90], maximumTurnDeg: 25 },
  };

  it('says what it lacks for a lens', () => {
    const gaps = lensRangeGaps({ sphereD: -20, cylinderD: -7, axisDeg: 45 }, range);
    expect(gaps.map((g) => g.code)).toEqual(['sphere-out-of-range', 'cylinder-out-of-range', 'turn-too-far']);
    expect(lensRangeGaps({ sphereD: -9, cylinderD: -4, axisDeg: 80 }, range)).toEqual([]);
  });

  it('turns a lens made to a fixed axis the short way, within its limit', () => {
    const [first] = rankLenses(
      {
        ...eye,
        refraction: { ...eye.refraction, axisDeg: 80 },
        keratometry: { ...eye.keratometry, steepAxisDeg: 170 },
      },
      range,
    );
    expect(first?.turn).toEqual({ fromAxisDeg: 90, angleDeg: 10, direction: 'clockwise' });
    expect(first?.ordered.axisDeg).toBe(90);
    expect(first?.lens.axisDeg).toBe(80);
    expect(rankLenses(eye, range)).toEqual([]);
  });

  it('is refused where it contradicts itself', () => {
    expect(
      refusal(() => rankLenses(eye, { ...range, sphere: { minD: 0, maxD: -5, stepD: 0.5 } })).field,
    ).toBe('range.sphere.maxD');
    expect(refusal(() => rankLenses(eye, { ...range, form: 'plus' })).field).toBe('range.cylinder.minD');
    expect(refusal(() => rankLenses(eye, { ...range, axis: { policy: 'any', stepDeg: 0 } })).field).toBe(
      'range.axis.stepDeg',
    );
  });

  it('is the same set of lenses in plus form', () => {
    const any = { policy: 'any', stepDeg: 1 } as const;
    const minus = rankLenses(eye, { ...range, axis: any, cylinder: { minD: -6, maxD: 0, stepD: 0.5 } });
    const plus = rankLenses(eye, {
      sphere: { minD: -24, maxD: 0, stepD: 0.5 },
      cylinder: { minD: 0, maxD: 6, stepD: 0.5 },
      axis: any,
      form: 'plus',
    });
    expect(plus[0]?.lens).toEqual(minus[0]?.lens);
    expect(plus[0]?.ordered.cylinderD).toBeGreaterThan(0);
  });
});

describe('the policy of the ranking', () => {
  const range: LensRange = {
    sphere: { minD: -18, maxD: 0, stepD: 0.5 },
    cylinder: { minD: -8, maxD: 0, stepD: 0.5 },
    axis: { policy: 'any', stepDeg: 1 },
  };

  it('puts lenses that flip the axis behind all that do not', () => {
    const ranked = rankLenses(eye, range, { count: 500 });
    const flips = ranked.map((r) => r.breaks.includes('flips-axis'));
    expect(flips).toContain(true);
    expect(flips.indexOf(true)).toBeGreaterThan(flips.lastIndexOf(false));
  });

  it('keeps with-the-rule cylinder to what is allowed', () => {
    const withTheRule = { ...eye, refraction: { ...eye.refraction, axisDeg: 180 } };
    const [first] = rankLenses(withTheRule, range, { maximumWithTheRuleD: 0, neverFlipAxis: false });
    expect(first?.breaks).toEqual([]);
  });

  it('puts the nearest spherical equivalent first when asked', () => {
    const ranked = rankLenses(eye, range, { order: 'nearest-equivalent', neverFlipAxis: false, count: 500 });
    const errors = ranked.map((r) => Math.round(Math.abs(r.equivalentErrorD) * 100));
    expect([...errors].sort((a, b) => a - b)).toEqual(errors);
  });

  it('shows what misplacement and tolerance cost', () => {
    const [first] = rankLenses(eye, range);
    expect(first?.misplaced.byDeg).toBe(5);
    expect(first?.misplaced.worstBlurD).toBeGreaterThan(first?.blurD ?? Infinity);
    expect(first?.madeWithinTolerance.powerD).toBe(0.3);
    expect(first?.madeWithinTolerance.worstBlurD).toBeGreaterThan(first?.blurD ?? Infinity);
  });
});
