import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { phakicEyes } from '../../../../tests/support/arbitrary-eyes.js';
import { refusal } from '../../../../tests/support/refusal.js';
import {
  bestRotation,
  blurD,
  exchangePower,
  explainSurprise,
  idealLens,
  normalAxisDeg,
  plusForm,
  powerVector,
  predictedRefraction,
  subtractCrossed,
  turnDeg,
  type PhakicEye,
  type SphereCylinder,
} from '../index.js';

const eye: PhakicEye = {
  refraction: { sphereD: -8, cylinderD: -4, axisDeg: 30, vertexMm: 12 },
  keratometry: { flatD: 46, steepD: 50, steepAxisDeg: 130 },
  anteriorChamberDepthMm: 3.1,
  cornealThicknessUm: 500,
};
const apart = (a: SphereCylinder, b: SphereCylinder): number => blurD(powerVector(subtractCrossed(a, b)));
const axes = fc.double({ min: 0, max: 179.99, noNaN: true });

describe('the best turn', () => {
  it('brings any ideal lens back from wherever it lies', () => {
    fc.assert(
      fc.property(phakicEyes, axes, (any, seenAxisDeg) => {
        const lens = idealLens(any);
        fc.pre(lens.cylinderD < -0.5);
        const left = predictedRefraction(any, lens, seenAxisDeg);
        const answer = bestRotation({
          lens,
          seenAxisDeg,
          refraction: { ...left, vertexMm: any.refraction.vertexMm },
          target: any.target,
          eye: any,
        });
        expect(Math.abs(turnDeg(lens.axisDeg, answer.newAxisDeg))).toBeLessThan(1e-5);
        expect(answer.cylinderAfterD).toBeLessThan(1e-6);
      }),
    );
  });

  it('leaves no less cylinder at any other axis, in one plane', () => {
    fc.assert(
      fc.property(axes, axes, axes, (seenAxisDeg, axisDeg, other) => {
        const lens = { sphereD: 0, cylinderD: -3, axisDeg: 0 };
        const refraction = { sphereD: 0.5, cylinderD: -1.5, axisDeg };
        const { cylinderAfterD } = bestRotation({ lens, seenAxisDeg, refraction });
        const needed = powerVector(refraction);
        const seen = powerVector({ ...lens, axisDeg: seenAxisDeg });
        const moved = powerVector({ ...lens, axisDeg: other });
        const left = 2 * Math.hypot(needed.j0D + seen.j0D - moved.j0D, needed.j45D + seen.j45D - moved.j45D);
        expect(left).toBeGreaterThanOrEqual(cylinderAfterD - 1e-9);
      }),
    );
  });

  it('leaves a good result alone and does not turn for a few degrees', () => {
    const lens = { sphereD: -8, cylinderD: -4, axisDeg: 30 };
    const good = bestRotation({
      lens,
      seenAxisDeg: 30,
      refraction: { sphereD: 0.25, cylinderD: -0.5, axisDeg: 10 },
    });
    expect(good.verdict).toBe('leave');
    const few = bestRotation({
      lens: { ...lens, cylinderD: -6 },
      seenAxisDeg: 34,
      refraction: subtractCrossed(
        { sphereD: 0, cylinderD: -6, axisDeg: 30 },
        { sphereD: 0, cylinderD: -6, axisDeg: 34 },
      ),
    });
    expect([few.verdict, Number(few.turnDeg.toFixed(6))]).toEqual(['leave', -4]);
  });

  it('calls for another lens where the sphere is wrong', () => {
    const answer = bestRotation({
      lens: { sphereD: -8, cylinderD: -4, axisDeg: 30 },
      seenAxisDeg: 30,
      refraction: { sphereD: -1.75, cylinderD: 0, axisDeg: 0 },
    });
    expect(answer.verdict).toBe('exchange');
    expect(answer.turnDeg).toBe(0);
  });

  it('takes a lens written in plus form by its own axis', () => {
    const minus = { sphereD: -8, cylinderD: -4, axisDeg: 45 };
    const refraction = { sphereD: 1.035, cylinderD: -2.071, axisDeg: 172.5 };
    const a = bestRotation({ lens: minus, seenAxisDeg: 45, refraction });
    const b = bestRotation({ lens: plusForm(minus), seenAxisDeg: 135, refraction });
    expect(b.turnDeg).toBeCloseTo(a.turnDeg, 9);
  });

  it('has nothing to turn on a lens without cylinder', () => {
    const lens = { sphereD: -8, cylinderD: 0, axisDeg: 0 };
    const answer = bestRotation({
      lens,
      seenAxisDeg: 0,
      refraction: { sphereD: 0, cylinderD: -2, axisDeg: 20 },
    });
    expect([answer.turnDeg, answer.direction, answer.verdict]).toEqual([0, 'none', 'exchange']);
  });

  it('refuses what cannot be', () => {
    const lens = { sphereD: -8, cylinderD: -4, axisDeg: 30 };
    const refraction = { sphereD: 0, cylinderD: -1, axisDeg: 20 };
    expect(refusal(() => bestRotation({ lens, seenAxisDeg: 181, refraction })).field).toBe('seenAxisDeg');
    expect(refusal(() => bestRotation({ lens, seenAxisDeg: 18, refraction, eye })).field).toBe(
      'refraction.vertexMm',
    );
  });
});

describe('the power for an exchange', () => {
  it('is the ideal lens again, whatever lies in the eye now', () => {
    fc.assert(
      fc.property(phakicEyes, fc.double({ min: -30, max: 30, noNaN: true }), (any, offDeg) => {
        const ideal = idealLens(any);
        const seenAxisDeg = normalAxisDeg(ideal.axisDeg + offDeg);
        const wrong = { ...ideal, sphereD: ideal.sphereD + 1.5 };
        const left = predictedRefraction(any, wrong, seenAxisDeg);
        const after = { ...any, refraction: { ...left, vertexMm: any.refraction.vertexMm } };
        expect(apart(exchangePower(after, wrong, seenAxisDeg).lens, ideal)).toBeLessThan(1e-8);
      }),
    );
  });
});

describe('a surprise', () => {
  const lens = idealLens(eye);
  const base = { eyeBefore: eye, lens, plannedAxisDeg: lens.axisDeg, seenAxisDeg: lens.axisDeg };

  it('is none where the plan came true', () => {
    expect(explainSurprise({ ...base, refractionLeft: predictedRefraction(eye, lens) }).cause).toBe('none');
  });

  it('is the axis where the lens lies elsewhere', () => {
    const refractionLeft = predictedRefraction(eye, lens, 50);
    const answer = explainSurprise({ ...base, seenAxisDeg: 50, refractionLeft });
    expect(answer.cause).toBe('axis');
    expect(answer.unexplainedD).toBeLessThan(1e-9);
  });

  it('is the position where the vault is far from what was expected', () => {
    const deep = { ...eye, lensPlaneOffsetMm: 1.8 };
    const strong = { ...deep, refraction: { ...eye.refraction, sphereD: -18 } };
    const plan = { ...strong, lensPlaneOffsetMm: 0.6 };
    const planned = idealLens(plan);
    const answer = explainSurprise({
      eyeBefore: plan,
      lens: planned,
      plannedAxisDeg: planned.axisDeg,
      seenAxisDeg: planned.axisDeg,
      refractionLeft: predictedRefraction(strong, planned),
      expectedVaultUm: 500,
      measuredVaultUm: 1700,
      unexplainedUpToD: 0.25,
    });
    expect(answer.cause).toBe('position');
    expect(answer.unexplainedD).toBeLessThan(1e-9);
  });

  it('is the power where neither explains it', () => {
    const wrong = { ...lens, sphereD: lens.sphereD + 2 };
    const answer = explainSurprise({ ...base, refractionLeft: predictedRefraction(eye, wrong) });
    expect(answer.cause).toBe('power');
    expect(answer.unexplainedD).toBeGreaterThan(1);
  });
});
