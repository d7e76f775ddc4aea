import { describe, expect, it } from 'vitest';
import { refusal } from '../../../../tests/support/refusal.js';
import {
  depthFromEndotheliumMm,
  idealLens,
  lensDistanceMm,
  minusForm,
  predictedRefraction,
  vertexStep,
  type PhakicEye,
} from '../index.js';

const eye: PhakicEye = {
  refraction: { sphereD: -8, cylinderD: -4, axisDeg: 30, vertexMm: 12 },
  keratometry: { flatD: 46, steepD: 50, steepAxisDeg: 120 },
  anteriorChamberDepthMm: 3.1,
  cornealThicknessUm: 500,
};

describe('an eye that cannot be', () => {
  it.each<[string, string, PhakicEye]>([
    ['refraction.axisDeg', '181', { ...eye, refraction: { ...eye.refraction, axisDeg: 181 } }],
    ['refraction.axisDeg', '-1', { ...eye, refraction: { ...eye.refraction, axisDeg: -1 } }],
    ['refraction.sphereD', 'NaN', { ...eye, refraction: { ...eye.refraction, sphereD: NaN } }],
    ['refraction.sphereD', 'Infinity', { ...eye, refraction: { ...eye.refraction, sphereD: Infinity } }],
    [
      'refraction.sphereD',
      '-8',
      { ...eye, refraction: { ...eye.refraction, sphereD: '-8' as unknown as number } },
    ],
    [
      'refraction.vertexMm',
      'undefined',
      { ...eye, refraction: { ...eye.refraction, vertexMm: undefined as unknown as number } },
    ],
    ['keratometry.flatD', '7.5', { ...eye, keratometry: { ...eye.keratometry, flatD: 7.5 } }],
    ['keratometry.flatD', '51', { ...eye, keratometry: { ...eye.keratometry, flatD: 51 } }],
    ['keratometry.index', '1', { ...eye, keratometry: { ...eye.keratometry, index: 1 } }],
    ['keratometry.steepAxisDeg', '200', { ...eye, keratometry: { ...eye.keratometry, steepAxisDeg: 200 } }],
    ['anteriorChamberDepthMm', '31', { ...eye, anteriorChamberDepthMm: 31 }],
    ['cornealThicknessUm', '0.5', { ...eye, cornealThicknessUm: 0.5 }],
    ['target.axisDeg', '190', { ...eye, target: { sphereD: 0, cylinderD: -1, axisDeg: 190 } }],
  ])('is refused by its field %s and value %s', (field, value, bad) => {
    const error = refusal(() => idealLens(bad));
    expect(error.field).toBe(field);
    expect(String(error.value)).toBe(value);
    expect(error.range).not.toBe('');
    expect(error.message).toContain(field);
  });

  it('is refused where the lens plane would lie in front of the cornea', () => {
    const error = refusal(() =>
      lensDistanceMm({ anteriorChamberDepthMm: 1, cornealThicknessUm: 500, lensPlaneOffsetMm: 1.6 }),
    );
    expect(error.code).toBe('input.contradiction');
    expect(error.field).toBe('lensPlaneOffsetMm');
  });

  it('is refused where light comes to a focus on the way', () => {
    expect(refusal(() => vertexStep({ sphereD: 100, cylinderD: 0, axisDeg: 0 }, 12)).code).toBe(
      'optics.no-image',
    );
    expect(refusal(() => vertexStep({ sphereD: 50, cylinderD: 50, axisDeg: 10 }, 12)).code).toBe(
      'optics.no-image',
    );
  });

  it('refuses a lens and a place that cannot be', () => {
    const lens = { sphereD: -9, cylinderD: -4, axisDeg: 30 };
    expect(refusal(() => predictedRefraction(eye, lens, 180.5)).field).toBe('implantedAxisDeg');
    expect(refusal(() => predictedRefraction(eye, { ...lens, sphereD: -90 })).field).toBe('lens.sphereD');
  });
});

describe('an axis', () => {
  it('of 180° is written 0°', () => {
    expect(minusForm({ sphereD: 1, cylinderD: -2, axisDeg: 180 }).axisDeg).toBe(0);
  });

  it('is 0 where there is no cylinder, and no zero is negative', () => {
    const plain = minusForm({ sphereD: -0, cylinderD: -0, axisDeg: 77 });
    expect(Object.is(plain.sphereD, 0)).toBe(true);
    expect(Object.is(plain.cylinderD, 0)).toBe(true);
    expect(plain.axisDeg).toBe(0);
  });
});

describe('a depth from the epithelium', () => {
  it('loses the thickness of the cornea', () => {
    expect(depthFromEndotheliumMm(3.6, 500)).toBeCloseTo(3.1, 12);
  });

  it('is refused where nothing would be left', () => {
    expect(refusal(() => depthFromEndotheliumMm(1.4, 500)).field).toBe('anteriorChamberDepthMm');
  });
});
