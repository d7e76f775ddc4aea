import { CalculationError } from '@lensferry/calculation';
import type { DesignSheet, PlanInput } from '@lensferry/contracts';
import { describe, expect, it } from 'vitest';
import { agree, bestOf, eyeOf, sizesOf, whatIf } from './what-if';

const input: PlanInput = {
  measurementIds: [],
  refraction: { sphereD: -8, cylinderD: -4, axisDeg: 30, vertexMm: 12 },
  keratometry: { flatD: 46, steepD: 50, steepAxisDeg: 120, index: null },
  depthFromEndotheliumMm: 3.1,
  cornealThicknessUm: 500,
  kmaxD: 54,
  coneDistanceMm: 1.4,
  coneDirectionDeg: 260,
  whiteToWhiteMm: 11.7,
  sulcusMm: 11.9,
  verticalSulcusMm: null,
  angleToAngleMm: null,
  lensRiseUm: null,
  lensThicknessMm: null,
};
const sheet: DesignSheet = {
  sphere: { minD: -20, maxD: 0, stepD: 0.25 },
  cylinder: { minD: -10, maxD: 0, stepD: 0.25 },
  axis: { policy: 'any', stepDeg: 1 },
  lengthsMm: [12, 12.25, 12.5, 12.75, 13],
  lensPlaneOffsetMm: 0.6,
  highCylinderFromD: 4,
  quotedWorkingDays: { stocked: 5, made: 20, high: 30 },
  stocked: null,
  price: { base: '900.00', highCylinder: '1100.00' },
  vaultModel: null,
  gtin: null,
};
const plano = { sphereD: 0, cylinderD: 0, axisDeg: null };

describe('what-if', () => {
  const eye = eyeOf(input, plano, sheet);

  it('finds the lens that the eye needs, as the published example does', () => {
    const result = whatIf(eye, { sphereD: -9, cylinderD: -4.5, axisDeg: 30 }, sheet);
    if (result instanceof CalculationError) throw result;
    // −8.00/−4.00 × 30 at 12 mm, K 46/50, 3.0 mm: recomputed twice from the vergence formula by matrices.
    expect(result.ideal.sphereD).toBeCloseTo(-8.915, 2);
    expect(result.predicted.sphereD).toBeCloseTo(0.427, 1);
    expect(result.outcome.cloud.length).toBeGreaterThan(50);
    expect(result.turnDeg).toBe(0);
  });

  it('offers the nearest lens that the design can make, and none that it can not', () => {
    expect(bestOf(eye, sheet)).toMatchObject({ cylinderD: -4, axisDeg: 30 });
    expect(bestOf(eye, { ...sheet, sphere: { minD: -5, maxD: 0, stepD: 0.25 } })).toBeNull();
  });

  it('turns a lens of a fixed axis until it lies where the eye needs it', () => {
    const fixed: DesignSheet = { ...sheet, axis: { policy: 'fixed', axesDeg: [180], maximumTurnDeg: 45 } };
    const result = whatIf(eye, { sphereD: -9, cylinderD: -4, axisDeg: 180 }, fixed);
    if (result instanceof CalculationError) throw result;
    expect(result.turnDeg).toBeCloseTo(30, 0);
  });

  it('says why a size can not be computed instead of guessing one', () => {
    const none = { ...input, sulcusMm: null, whiteToWhiteMm: null };
    expect(sizesOf(none, sheet)).toBeInstanceOf(CalculationError);
    const sizes = sizesOf(input, sheet);
    expect(sizes instanceof CalculationError ? [] : sizes.sizes).toHaveLength(5);
  });

  it('tells when the server computed something else', () => {
    expect(
      agree(
        { sphereD: 0.1, cylinderD: -0.4, axisDeg: 179.8 },
        { sphereD: 0.101, cylinderD: -0.4, axisDeg: 0.2 },
      ),
    ).toBe(true);
    expect(
      agree({ sphereD: 0.1, cylinderD: -0.4, axisDeg: 10 }, { sphereD: 0.1, cylinderD: -0.4, axisDeg: 20 }),
    ).toBe(false);
  });
});
