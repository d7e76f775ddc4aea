import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CalculationError } from '../calculation-error.js';
import { idealLens, powerVector, predictedRefraction } from '../index.js';
import { withOffset } from './apply-offset.js';

const quarters = (min: number, max: number) =>
  fc.integer({ min: min * 4, max: max * 4 }).map((steps) => steps / 4);
const refraction = fc.record({
  sphereD: quarters(-14, -2),
  cylinderD: quarters(-7, 0),
  axisDeg: fc.integer({ min: 0, max: 179 }),
});
const part = fc.integer({ min: -50, max: 50 }).map((steps) => steps / 100);
const offset = fc.record({ meanD: part, j0D: part, j45D: part });

describe('planning with a learned offset', () => {
  it('adds the offset as a power vector, and takes it away again', () => {
    fc.assert(
      fc.property(refraction, offset, (eye, by) => {
        const [before, after] = [powerVector(eye), powerVector(withOffset(eye, by))];
        expect(after.meanD - before.meanD).toBeCloseTo(by.meanD, 9);
        expect(after.j0D - before.j0D).toBeCloseTo(by.j0D, 9);
        expect(after.j45D - before.j45D).toBeCloseTo(by.j45D, 9);
        const back = withOffset(withOffset(eye, by), { meanD: -by.meanD, j0D: -by.j0D, j45D: -by.j45D });
        expect(powerVector(back).meanD).toBeCloseTo(before.meanD, 9);
      }),
    );
  });

  it('brings an eye that comes out by the offset to its aim, to a tenth of the offset', () => {
    const eye = {
      keratometry: { flatD: 45, steepD: 49, steepAxisDeg: 60, index: 1.3375 },
      target: { sphereD: 0, cylinderD: 0, axisDeg: 0 },
      anteriorChamberDepthMm: 3.2,
      cornealThicknessUm: 470,
    };
    const measured = { sphereD: -8, cylinderD: -4, axisDeg: 155, vertexMm: 12 };
    const by = { meanD: -0.5, j0D: 0.2, j45D: -0.1 };
    const planned = { ...withOffset(measured, by), vertexMm: 12 };
    const lens = idealLens({ ...eye, refraction: planned });
    // By optics alone the lens overdoes it by the offset; the eyes of the place give it back.
    const byOptics = powerVector(predictedRefraction({ ...eye, refraction: measured }, lens));
    for (const name of ['meanD', 'j0D', 'j45D'] as const)
      expect(Math.abs(byOptics[name] + by[name])).toBeLessThan(0.1 * 0.5);
  });

  it('refuses what no place can be off by', () => {
    const eye = { sphereD: -8, cylinderD: 0, axisDeg: 0 };
    expect(() => withOffset(eye, { meanD: -2.5, j0D: 0, j45D: 0 })).toThrow(CalculationError);
    expect(() => withOffset(eye, { meanD: NaN, j0D: 0, j45D: 0 })).toThrow(CalculationError);
  });
});
