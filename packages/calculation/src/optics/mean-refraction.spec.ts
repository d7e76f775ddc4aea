import { describe, expect, it } from 'vitest';
import { refusal } from '../../../../tests/support/refusal.js';
import { meanRefraction } from '../index.js';

describe('repeated refractions', () => {
  const at = (sphereD: number, cylinderD: number, axisDeg: number) => ({ sphereD, cylinderD, axisDeg });

  it('are averaged across 180° as one axis', () => {
    const { mean, ellipse, count } = meanRefraction([at(-8, -4, 175), at(-8, -4, 5)]);
    expect(count).toBe(2);
    expect(Math.min(mean.axisDeg, 180 - mean.axisDeg)).toBeLessThan(1e-9);
    expect(mean.cylinderD).toBeCloseTo(-4 * Math.cos(Math.PI / 18), 9);
    expect(ellipse?.directionDeg).toBeCloseTo(90, 6);
    expect(ellipse?.semiMinorD).toBeCloseTo(0, 6);
  });

  it('spread as their sample standard deviations', () => {
    const { sd, greatestDifferenceD } = meanRefraction([at(-8, 0, 0), at(-9, 0, 0), at(-10, 0, 0)]);
    expect(sd?.meanD).toBeCloseTo(1, 12);
    expect(greatestDifferenceD).toBeCloseTo(2, 12);
  });

  it('have no spread when there is one, and are refused when there is none', () => {
    expect(meanRefraction([at(-8, -4, 30)])).not.toHaveProperty('sd');
    expect(refusal(() => meanRefraction([])).code).toBe('input.missing');
  });
});
