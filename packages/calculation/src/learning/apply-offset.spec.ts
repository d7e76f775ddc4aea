import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CalculationError } from '../calculation-error.js';
import {
  idealLens,
  powerVector,
  predictedRefraction,
  sphereCylinder,
  vertexStep,
  type SphereCylinder,
} from '../index.js';
import { withOffset } from './apply-offset.js';

const quarters = (min: number, max: number) =>
  fc.integer({ min: min * 4, max: max * 4 }).map((steps) => steps / 4);
const refraction = fc.record({
  sphereD: quarters(-14, -2),
  cylinderD: quarters(-7, 0),
  axisDeg: fc.integer({ min: 0, max: 179 }),
  vertexMm: fc.constant(12),
});
const part = fc.integer({ min: -50, max: 50 }).map((steps) => steps / 100);
const offset = fc.record({ meanD: part, j0D: part, j45D: part });

describe('planning with a learned offset', () => {
  it('adds the offset as a power vector at the cornea, and takes it away again', () => {
    fc.assert(
      fc.property(refraction, offset, (eye, by) => {
        const at = (one: SphereCylinder) => powerVector(vertexStep(one, 12));
        const moved = withOffset(eye, by);
        const left = at(sphereCylinder(by));
        for (const name of ['meanD', 'j0D', 'j45D'] as const)
          expect(at(moved)[name] - at(eye)[name]).toBeCloseTo(left[name], 9);
        // With a vertex distance of 0 there is nothing to step through, and the vectors simply add.
        const flat = { ...eye, vertexMm: 0 };
        const back = withOffset(
          { ...withOffset(flat, by), vertexMm: 0 },
          { meanD: -by.meanD, j0D: -by.j0D, j45D: -by.j45D },
        );
        expect(powerVector(back).meanD).toBeCloseTo(powerVector(eye).meanD, 9);
        expect(powerVector(back).j45D).toBeCloseTo(powerVector(eye).j45D, 9);
      }),
    );
  });

  it('brings an eye that comes out by the offset to its aim, to a fourteenth of the offset', () => {
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
      expect(Math.abs(byOptics[name] + by[name])).toBeLessThan(Math.hypot(0.5, 0.2, 0.1) / 14);
  });

  it('refuses what no place can be off by', () => {
    const eye = { sphereD: -8, cylinderD: 0, axisDeg: 0, vertexMm: 12 };
    expect(() => withOffset(eye, { meanD: -2.5, j0D: 0, j45D: 0 })).toThrow(CalculationError);
    expect(() => withOffset(eye, { meanD: NaN, j0D: 0, j45D: 0 })).toThrow(CalculationError);
  });
});
