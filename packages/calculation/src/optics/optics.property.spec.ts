import fc from 'fast-check';
import { Matrix, inverse } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { phakicEyes, sphereCylinders, turnedEye } from '../../../../tests/support/arbitrary-eyes.js';
import {
  addCrossed,
  blurD,
  cornealPower,
  fromPowerMatrix,
  idealLens,
  lensDistanceMm,
  minusForm,
  plusForm,
  powerMatrix,
  powerVector,
  predictedRefraction,
  rankLenses,
  sphereCylinder,
  subtractCrossed,
  turnDeg,
  vertexStep,
  type PhakicEye,
  type SphereCylinder,
} from './index.js';

/** Distance of two powers as power vectors: blind to form, axis of nothing and 180°. */
function apart(a: SphereCylinder, b: SphereCylinder): number {
  return blurD(powerVector(subtractCrossed(a, b)));
}

const PLANO = { sphereD: 0, cylinderD: 0, axisDeg: 0 };

describe('sphero-cylinders', () => {
  it('mean the same in plus and minus form, and turned by 180°', () => {
    fc.assert(
      fc.property(sphereCylinders, (value) => {
        expect(apart(value, plusForm(value))).toBeLessThan(1e-12);
        expect(apart(value, minusForm(value))).toBeLessThan(1e-12);
        expect(minusForm(value).cylinderD).toBeLessThanOrEqual(0);
        expect(plusForm(value).cylinderD).toBeGreaterThanOrEqual(0);
        expect(
          apart(minusForm({ ...value, axisDeg: 0 }), minusForm({ ...value, axisDeg: 180 })),
        ).toBeLessThan(1e-12);
      }),
    );
  });

  it('come back from vectors and matrices with their axis in 0 ≤ a < 180', () => {
    fc.assert(
      fc.property(sphereCylinders, (value) => {
        for (const back of [sphereCylinder(powerVector(value)), fromPowerMatrix(powerMatrix(value))]) {
          expect(apart(back, value)).toBeLessThan(1e-12);
          expect(back.axisDeg).toBeGreaterThanOrEqual(0);
          expect(back.axisDeg).toBeLessThan(180);
          expect(back.cylinderD).toBeLessThanOrEqual(0);
        }
      }),
    );
  });

  it('undo each other when added and taken off', () => {
    fc.assert(
      fc.property(sphereCylinders, sphereCylinders, (a, b) => {
        expect(apart(subtractCrossed(addCrossed(a, b), b), a)).toBeLessThan(1e-12);
        expect(apart(addCrossed(a, b), addCrossed(b, a))).toBeLessThan(1e-12);
      }),
    );
  });
});

describe('vertex steps', () => {
  it('undo each other', () => {
    fc.assert(
      fc.property(sphereCylinders, fc.double({ min: 0, max: 16, noNaN: true }), (value, mm) => {
        expect(apart(vertexStep(vertexStep(value, mm), -mm), value)).toBeLessThan(1e-10);
      }),
    );
  });

  it('equal the scalar formula on each principal meridian', () => {
    fc.assert(
      fc.property(sphereCylinders, fc.double({ min: 0, max: 16, noNaN: true }), (value, mm) => {
        const scalar = (p: number): number => p / (1 - (mm / 1000) * p);
        const first = scalar(value.sphereD);
        const second = scalar(value.sphereD + value.cylinderD);
        const expected = { sphereD: first, cylinderD: second - first, axisDeg: value.axisDeg };
        expect(apart(vertexStep(value, mm), expected)).toBeLessThan(1e-10);
      }),
    );
  });
});

describe('the ideal lens', () => {
  it('leaves the target and nothing else', () => {
    fc.assert(
      fc.property(phakicEyes, (eye) => {
        const left = predictedRefraction(eye, idealLens(eye));
        expect(apart(left, eye.target ?? PLANO)).toBeLessThan(1e-9);
      }),
    );
  });

  it('turns with the eye', () => {
    fc.assert(
      fc.property(phakicEyes, fc.double({ min: -180, max: 180, noNaN: true }), (eye, byDeg) => {
        const lens = idealLens(eye);
        const turned = idealLens(turnedEye(eye, byDeg));
        expect(turned.sphereD).toBeCloseTo(lens.sphereD, 9);
        expect(turned.cylinderD).toBeCloseTo(lens.cylinderD, 9);
        // Without cylinder there is no axis to compare.
        if (lens.cylinderD < -1e-3) {
          expect(Math.abs(turnDeg(lens.axisDeg + byDeg, turned.axisDeg))).toBeLessThan(1e-6);
        }
      }),
    );
  });

  it('does not care for the cylinder form of refraction, target and lens', () => {
    fc.assert(
      fc.property(phakicEyes, sphereCylinders, (eye, lens) => {
        const plus: PhakicEye = {
          ...eye,
          refraction: { ...plusForm(eye.refraction), vertexMm: eye.refraction.vertexMm },
          target: eye.target === undefined ? undefined : plusForm(eye.target),
        };
        expect(apart(idealLens(plus), idealLens(eye))).toBeLessThan(1e-9);
        expect(
          apart(predictedRefraction(eye, plusForm(lens)), predictedRefraction(eye, minusForm(lens))),
        ).toBeLessThan(1e-9);
      }),
    );
  });

  it('equals the scalar vergence formula on each meridian where all axes agree', () => {
    fc.assert(
      fc.property(phakicEyes, (eye) => {
        const axisDeg = minusForm(eye.refraction).axisDeg;
        const aligned: PhakicEye = {
          ...eye,
          refraction: { ...minusForm(eye.refraction), vertexMm: eye.refraction.vertexMm },
          keratometry: { ...eye.keratometry, steepAxisDeg: (axisDeg + 90) % 180 },
          target: undefined,
        };
        const { sphereD, cylinderD, vertexMm } = aligned.refraction;
        const cornea = cornealPower(aligned.keratometry);
        const n = 1.336;
        const d = lensDistanceMm(aligned) / 1000;
        const power = (r: number, k: number): number => {
          const rc = r / (1 - (vertexMm / 1000) * r);
          return n / (n / (k + rc) - d) - n / (n / k - d);
        };
        const along = power(sphereD, cornea.sphereD + cornea.cylinderD);
        const across = power(sphereD + cylinderD, cornea.sphereD);
        const expected = { sphereD: along, cylinderD: across - along, axisDeg };
        expect(apart(idealLens(aligned), expected)).toBeLessThan(1e-9);
      }),
    );
  });

  it('equals 2x2 matrices written with a general library', () => {
    fc.assert(
      fc.property(phakicEyes, sphereCylinders, (eye, lens) => {
        const by = matrixPlan(eye, lens);
        expect(apart(idealLens(eye), by.ideal)).toBeLessThan(1e-9);
        expect(apart(predictedRefraction(eye, lens), by.left)).toBeLessThan(1e-9);
      }),
    );
  });
});

describe('the ranking of lenses that can be made', () => {
  const range = {
    sphere: { minD: -25, maxD: 10, stepD: 0.5 },
    cylinder: { minD: -12, maxD: 0, stepD: 0.5 },
    axis: { policy: 'any', stepDeg: 1 },
  } as const;

  it('begins with the lens of least blur among all steps when only blur counts', () => {
    fc.assert(
      fc.property(phakicEyes, (eye) => {
        const ranked = rankLenses(eye, range, { neverFlipAxis: false, count: 1000 });
        const blurs = ranked.map((r) => r.blurD);
        expect([...blurs].sort((a, b) => a - b)).toEqual(blurs);
        const target = eye.target ?? PLANO;
        for (const r of ranked.slice(0, 5)) {
          expect(apart(predictedRefraction(eye, r.lens), r.predicted)).toBeLessThan(1e-9);
          expect(apart(r.predicted, target)).toBeCloseTo(r.blurD, 9);
          expect(r.misplaced.worstBlurD).toBeGreaterThanOrEqual(r.blurD - 2);
        }
      }),
      { numRuns: 30 },
    );
  });
});

/** The plan by textbook matrices, without any shortcut that the package takes. */
function matrixPlan(eye: PhakicEye, lens: SphereCylinder): { ideal: SphereCylinder; left: SphereCylinder } {
  const of = (v: SphereCylinder): Matrix => {
    const m = powerMatrix(v);
    return new Matrix([
      [m.xxD, m.xyD],
      [m.xyD, m.yyD],
    ]);
  };
  const back = (m: Matrix): SphereCylinder =>
    fromPowerMatrix({ xxD: m.get(0, 0), xyD: (m.get(0, 1) + m.get(1, 0)) / 2, yyD: m.get(1, 1) });
  const step = (m: Matrix, a: number): Matrix =>
    m.mmul(inverse(Matrix.sub(Matrix.eye(2, 2), Matrix.mul(m, a))));
  const vertex = eye.refraction.vertexMm / 1000;
  const depth = lensDistanceMm(eye) / 1000 / 1.336;
  const cornea = of(cornealPower(eye.keratometry));
  const at = (r: SphereCylinder): Matrix => step(Matrix.add(cornea, step(of(r), vertex)), depth);
  const needed = at(eye.refraction);
  const ideal = Matrix.sub(needed, at(eye.target ?? PLANO));
  const kept = Matrix.sub(step(Matrix.sub(needed, of(lens)), -depth), cornea);
  return { ideal: back(ideal), left: back(step(kept, -vertex)) };
}
