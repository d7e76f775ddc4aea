import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { idealLens, lensRangeGaps, type PhakicEye } from '@lensferry/calculation';
import type { GatheredEye } from '@lensferry/domain';
import { makers } from '../demo/network.js';
import { whyNotOffered } from './why-not-offered.js';

const sheet = makers[0]!.designs[0]!.sheet;
const design = (changes: Partial<typeof sheet> = {}) => ({
  id: 'one',
  code: 'ONE',
  name: 'One',
  version: 1,
  sheet: { ...sheet, axis: { policy: 'any', stepDeg: 1 } as const, ...changes },
  maker: { id: 'm', code: 'M', name: 'Maker', currency: 'EUR' },
});
const eyeWith = (sphereD: number, cylinderD: number): PhakicEye => ({
  refraction: { sphereD, cylinderD, axisDeg: 45, vertexMm: 12 },
  keratometry: { flatD: 46, steepD: 50, steepAxisDeg: 135 },
  target: { sphereD: 0, cylinderD: 0, axisDeg: 0 },
  anteriorChamberDepthMm: 3.2,
  cornealThicknessUm: 480,
});
const sizes = {
  whiteToWhiteMm: 11.7,
  sulcusMm: null,
  verticalSulcusMm: null,
  angleToAngleMm: null,
  lensRiseUm: null,
  lensThicknessMm: null,
  depthFromEndotheliumMm: 3.2,
  kmaxD: null,
  coneDistanceMm: null,
} as unknown as GatheredEye;
const codes = (of: ReturnType<typeof design>, eye: PhakicEye): string[] =>
  whyNotOffered(of, sizes, eye).map(({ code }) => code);

describe('why a design is not offered', () => {
  it('says nothing of a lens that can be made', () => {
    expect(codes(design(), eyeWith(-8, -3))).toEqual([]);
  });

  it('names each power that lies outside the range, with what is needed and what is made', () => {
    const narrow = design({
      sphere: { minD: -6, maxD: -4, stepD: 0.5 },
      cylinder: { minD: -1, maxD: 0, stepD: 0.5 },
    });
    const found = whyNotOffered(narrow, sizes, eyeWith(-9, -4));
    expect(found.map(({ code }) => code)).toEqual(
      expect.arrayContaining(['sphere-out-of-range', 'cylinder-out-of-range']),
    );
    expect(found[0]).toMatchObject({ facts: { minimum: -6, maximum: -4 } });
    expect(found[0]!.message).toMatch(
      /^The eye needs a sphere of −\d+\.\d\d D; it is made from −6.00 D to −4.00 D\.$/,
    );
  });

  it('says how far a lens made to fixed axes would have to be turned', () => {
    const fixed = design({ axis: { policy: 'fixed', axesDeg: [180], maximumTurnDeg: 20 } });
    const [first] = whyNotOffered(fixed, sizes, eyeWith(-8, -3));
    expect(first).toMatchObject({ code: 'turn-too-far', facts: { limit: 20 } });
  });

  it('adds lengths that end too early to what else is wrong', () => {
    const short = design({ sphere: { minD: -2, maxD: -1, stepD: 0.5 }, lengthsMm: [10, 10.25] });
    expect(codes(short, eyeWith(-8, -3))).toEqual(['sphere-out-of-range', 'length-not-made']);
  });

  it('never lets a design drop out of the offers without a reason', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -25, max: 8, noNaN: true }),
        fc.double({ min: -12, max: 0, noNaN: true }),
        (sphereD, cylinderD) => {
          const one = design();
          const eye = eyeWith(sphereD, cylinderD);
          const behind = { ...eye, lensPlaneOffsetMm: one.sheet.lensPlaneOffsetMm };
          const gaps = lensRangeGaps(idealLens(behind), {
            sphere: one.sheet.sphere,
            cylinder: one.sheet.cylinder,
            axis: one.sheet.axis,
          });
          const told = codes(one, eye);
          for (const { code } of gaps) expect(told).toContain(code);
          expect(new Set(told).size).toBe(told.length);
        },
      ),
      { numRuns: 300 },
    );
  });
});
