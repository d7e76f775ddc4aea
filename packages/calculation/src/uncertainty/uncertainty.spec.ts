import fc from 'fast-check';
import jstat from 'jstat';
import { describe, expect, it } from 'vitest';
import { phakicEyes } from '../../../../tests/support/arbitrary-eyes.js';
import { refusal } from '../../../../tests/support/refusal.js';
import {
  DEFAULT_SPREADS,
  expectedOutcome,
  firstOrderOutcome,
  idealLens,
  normalBelow,
  normalQuantile,
  OUTCOME_SPREADS,
  predictedRefraction,
  sobolPoints,
  sphericalEquivalentD,
  type OutcomeSpreads,
  type PhakicEye,
} from '../index.js';

const eye: PhakicEye = {
  refraction: { sphereD: -8, cylinderD: -4, axisDeg: 30, vertexMm: 12 },
  keratometry: { flatD: 46, steepD: 50, steepAxisDeg: 130 },
  anteriorChamberDepthMm: 3.1,
  cornealThicknessUm: 500,
};
const lens = idealLens(eye);

function scaled(spreads: OutcomeSpreads, by: number): OutcomeSpreads {
  const vector = (v: OutcomeSpreads['refraction']) => ({
    meanD: v.meanD * by,
    j0D: v.j0D * by,
    j45D: v.j45D * by,
  });
  return {
    refraction: vector(spreads.refraction),
    keratometry: vector(spreads.keratometry),
    depthMm: spreads.depthMm * by,
    lensPlaneMm: spreads.lensPlaneMm * by,
    axisPlacementDeg: spreads.axisPlacementDeg * by,
    axisMarkDeg: spreads.axisMarkDeg * by,
    lensSphereD: spreads.lensSphereD * by,
    lensCylinderD: spreads.lensCylinderD * by,
  };
}

describe('the normal distribution', () => {
  it('agrees with a statistics library', () => {
    for (let z = -6; z <= 6; z += 0.25) {
      expect(Math.abs(normalBelow(z) - jstat.normal.cdf(z, 0, 1))).toBeLessThan(1e-7);
    }
  });

  it('is undone by its quantile', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-12, max: 1 - 1e-12, noNaN: true }), (p) => {
        expect(Math.abs(normalBelow(normalQuantile(p)) - p)).toBeLessThan(1e-14);
      }),
    );
  });

  it('has no quantile at 0, 1 or nowhere', () => {
    for (const p of [0, 1, -1, NaN]) expect(refusal(() => normalQuantile(p)).field).toBe('p');
  });
});

describe('quasi-random points', () => {
  it('fill every coordinate evenly', () => {
    const points = sobolPoints(1024, 12, 9);
    for (let d = 0; d < 12; d += 1) {
      const cells = new Set<number>();
      for (let i = 0; i < 1024; i += 1) cells.add(Math.floor((points[i * 12 + d] as number) * 1024));
      expect(cells.size).toBe(1024);
    }
  });

  it('are the same for the same seed and others for another', () => {
    expect(sobolPoints(8, 3, 4)).toEqual(sobolPoints(8, 3, 4));
    expect(sobolPoints(8, 3, 4)).not.toEqual(sobolPoints(8, 3, 5));
  });

  it('are refused in more dimensions than there are directions', () => {
    expect(refusal(() => sobolPoints(8, 13, 0)).field).toBe('dimensions');
    expect(refusal(() => sobolPoints(0, 3, 0)).field).toBe('samples');
  });
});

describe('the expected outcome', () => {
  it('is the same every time', () => {
    const first = expectedOutcome(eye, lens);
    expectedOutcome(eye, lens, DEFAULT_SPREADS, { samples: 100, seed: 77 });
    expect(expectedOutcome(eye, lens)).toEqual(first);
  });

  it('is the predicted refraction where nothing spreads', () => {
    const still = scaled(DEFAULT_SPREADS, 0);
    const other = { sphereD: -9, cylinderD: -4.5, axisDeg: 30 };
    const left = predictedRefraction(eye, other);
    const outcome = expectedOutcome(eye, other, still, { samples: 16 });
    expect(outcome.sphericalEquivalentD.p10).toBeCloseTo(sphericalEquivalentD(left), 9);
    expect(outcome.sphericalEquivalentD.p90).toBeCloseTo(sphericalEquivalentD(left), 9);
    expect(outcome.cylinderD.p50).toBeCloseTo(left.cylinderD, 9);
    expect(outcome.withinHalfD).toBe(1);
  });

  it.each(Object.keys(OUTCOME_SPREADS) as (keyof typeof OUTCOME_SPREADS)[])(
    'agrees with first order for the spreads %s',
    (name) => {
      const { spreads } = OUTCOME_SPREADS[name];
      const sampled = expectedOutcome(eye, lens, spreads);
      const linear = firstOrderOutcome(eye, lens, spreads);
      const spread = linear.sphericalEquivalentD.p90 - linear.sphericalEquivalentD.p50;
      for (const p of ['p10', 'p50', 'p90'] as const) {
        const off = sampled.sphericalEquivalentD[p] - linear.sphericalEquivalentD[p];
        expect(Math.abs(off)).toBeLessThan(0.03 * spread);
      }
      expect(Math.abs(sampled.withinHalfD - linear.withinHalfD)).toBeLessThan(0.01);
      expect(Math.abs(sampled.withinOneD - linear.withinOneD)).toBeLessThan(0.01);
    },
  );

  it('agrees with first order for any eye where the spreads are small', () => {
    const small = scaled(DEFAULT_SPREADS, 0.2);
    fc.assert(
      fc.property(phakicEyes, (any) => {
        const wanted = idealLens(any);
        const sampled = expectedOutcome(any, wanted, small, { samples: 4096 });
        const linear = firstOrderOutcome(any, wanted, small);
        const spread = linear.sphericalEquivalentD.p90 - linear.sphericalEquivalentD.p50;
        expect(Math.abs(sampled.sphericalEquivalentD.p90 - linear.sphericalEquivalentD.p90)).toBeLessThan(
          0.05 * spread,
        );
        expect(Math.abs(sampled.sphericalEquivalentD.p50 - linear.sphericalEquivalentD.p50)).toBeLessThan(
          0.05 * spread,
        );
      }),
      { numRuns: 25 },
    );
  });

  it('narrows with repeated refractions and names what would narrow it', () => {
    const once = expectedOutcome(eye, lens);
    const four = expectedOutcome(eye, lens, DEFAULT_SPREADS, { refractionCount: 4 });
    expect(four.withinHalfD).toBeGreaterThan(once.withinHalfD);
    const { shares } = firstOrderOutcome(eye, lens);
    expect(shares[0]?.source).toBe('refraction-mean');
    expect(shares.reduce((sum, s) => sum + s.share, 0)).toBeCloseTo(1, 12);
  });

  it('says plainly that an error is likely and gives a cloud to draw', () => {
    const outcome = expectedOutcome(eye, lens, DEFAULT_SPREADS, { cloudCount: 50 });
    expect(outcome.statement).toMatch(/^Some error is likely to remain: about \d+ of 10 /);
    expect(outcome.cloud).toHaveLength(50);
    expect(outcome.cylinderD.p10).toBeLessThan(outcome.cylinderD.p90);
    expect(outcome.cylinderD.p90).toBeLessThanOrEqual(0);
  });

  it('counts the distance from the target, not from plano', () => {
    const target = { sphereD: -1, cylinderD: 0, axisDeg: 0 };
    const short = { ...eye, target };
    expect(expectedOutcome(short, idealLens(short)).withinHalfD).toBeGreaterThan(0.5);
    expect(expectedOutcome(short, lens).withinHalfD).toBeLessThan(0.4);
  });

  it('refuses spreads and settings that cannot be', () => {
    const bad = { ...DEFAULT_SPREADS, depthMm: -1 };
    expect(refusal(() => expectedOutcome(eye, lens, bad)).field).toBe('spreads.depthMm');
    expect(refusal(() => expectedOutcome(eye, lens, DEFAULT_SPREADS, { samples: NaN })).field).toBe(
      'samples',
    );
    expect(refusal(() => expectedOutcome(eye, lens, DEFAULT_SPREADS, { refractionCount: 0 })).field).toBe(
      'refractionCount',
    );
  });
});
