import { describe, expect, it } from 'vitest';
import {
  bestRotation,
  idealLens,
  misplacedCylinderD,
  predictedRefraction,
  sphericalEquivalentD,
  subtractCrossed,
  type PhakicEye,
} from '../../packages/calculation/src/index.js';

const eye: PhakicEye = {
  refraction: { sphereD: -8, cylinderD: -4, axisDeg: 30, vertexMm: 12 },
  keratometry: { flatD: 46, steepD: 50, steepAxisDeg: 130 },
  anteriorChamberDepthMm: 3,
  cornealThicknessUm: 600,
  lensPlaneOffsetMm: 0.6,
};

describe('a toric lens off its axis', () => {
  it.each([
    // degrees off, per cent of C left; 2 C sin θ, Felipe et al., J Cataract Refract Surg
    [1, 3.49],
    [2, 6.98],
    [5, 17.43],
    [10, 34.73],
    [15, 51.76],
    [20, 68.4],
    [30, 100],
    [45, 141.4],
    [90, 200],
  ])('leaves at %d° %d per cent of its cylinder', (offDeg, percent) => {
    const lens = { sphereD: -8, cylinderD: -4, axisDeg: 30 };
    const left = subtractCrossed(lens, { ...lens, axisDeg: (30 + offDeg) % 180 });
    const digits = percent === 141.4 ? 1 : 2;
    expect(Number((misplacedCylinderD(1, offDeg) * 100).toFixed(digits))).toBe(percent);
    expect(-left.cylinderD / 4).toBeCloseTo(misplacedCylinderD(1, offDeg), 12);
    expect(sphericalEquivalentD(left)).toBeCloseTo(0, 12);
  });
});

describe('a lens weaker than the cornea it corrects', () => {
  it.each([
    // ratio of lens to corneal cylinder; Felipe et al., J Cataract Refract Surg: the turn β that annuls
    // the correction has cos 2β = r/2 (their cos(π + 2β) counts from the crossed axis)
    [1],
    [0.75],
    [0.5],
  ])('with %d of its cylinder corrects nothing when turned by β with cos 2β = r/2', (ratio) => {
    const offDeg = (Math.acos(ratio / 2) * 90) / Math.PI;
    const needed = { sphereD: 0, cylinderD: -4, axisDeg: 30 };
    const lens = { sphereD: 0, cylinderD: -4 * ratio, axisDeg: 30 + offDeg };
    expect(subtractCrossed(needed, lens).cylinderD).toBeCloseTo(-4, 9); // Felipe et al., J Cataract Refract Surg
  });
});

describe('the best turn', () => {
  it('is -15.0° where a lens for 30° lies at 45°', () => {
    // an eye that needs -4 x 30 and has -4 at 45 [recomputed]
    const answer = bestRotation({
      lens: { sphereD: 0, cylinderD: -4, axisDeg: 30 },
      seenAxisDeg: 45,
      refraction: { sphereD: 1.035, cylinderD: -2.071, axisDeg: 172.5 },
    });
    expect(Number(answer.turnDeg.toFixed(1))).toBe(-15); // [recomputed]
    expect(answer.cylinderAfterD).toBeLessThan(0.001);
    expect(answer.verdict).toBe('turn');
  });

  it('is -14.47° for the ideal lens of the oblique eye at 45°', () => {
    const lens = idealLens(eye);
    const left = predictedRefraction(eye, lens, 45);
    expect([left.sphereD, left.cylinderD].map((x) => Number(x.toFixed(3)))).toEqual([0.794, -1.607]); // [recomputed]
    expect(Number(left.axisDeg.toFixed(2))).toBe(172.76); // [recomputed]
    const answer = bestRotation({ lens, seenAxisDeg: 45, refraction: { ...left, vertexMm: 12 }, eye });
    expect(Number(answer.turnDeg.toFixed(2))).toBe(-14.47); // [recomputed]
    expect(answer.cylinderAfterD).toBeLessThan(1e-9);
    expect(answer.verdict).toBe('turn');
  });

  it('is +6.59° and not enough for a -3.00 D lens that leaves +0.50/-1.25 x 100', () => {
    const answer = bestRotation({
      lens: { sphereD: 0, cylinderD: -3, axisDeg: 20 },
      seenAxisDeg: 20,
      refraction: { sphereD: 0.5, cylinderD: -1.25, axisDeg: 100 },
    });
    expect(Number(answer.turnDeg.toFixed(2))).toBe(6.59); // [recomputed]
    expect(Number(answer.cylinderAfterD.toFixed(3))).toBe(1.125); // [recomputed]
    expect(answer.verdict).toBe('exchange');
  });
});
