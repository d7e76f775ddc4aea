import { describe, expect, it } from 'vitest';
import { crossingOf, horizonDays, percentOn, sizesToShow, ticks, toneOfChance } from './scales';

const row = {
  p10: '2026-12-04',
  p50: '2026-12-10',
  p90: '2026-12-24',
  needBy: '2026-12-09',
  promisedOn: null,
};

describe('the scales of the drawings', () => {
  it('places values in percent and keeps them in the picture', () => {
    expect(percentOn(500, 0, 1000)).toBe(50);
    expect(percentOn(-5, 0, 1000)).toBe(0);
    expect(percentOn(5000, 0, 1000)).toBe(100);
  });

  it('shows a horizon that holds every row', () => {
    const days = horizonDays([row, null], '2026-11-25');
    expect(days).toBeGreaterThan(29);
    const crossing = crossingOf(row, '2026-11-25', days);
    expect(crossing.low).toBeLessThan(crossing.needBy ?? 0);
    expect(crossing.high).toBeLessThan(100);
    expect(crossing.promised).toBeNull();
  });

  it('shows sizes with a real share, and those that are spoken of', () => {
    const sizes = [0.01, 0.4, 0.02].map((intended, i) => ({ lengthMm: 12 + i / 2, intended }));
    expect(sizesToShow(sizes, [13, null]).map(({ lengthMm }) => lengthMm)).toEqual([12.5, 13]);
  });

  it('calls even odds likely missed and nine in ten fine', () => {
    expect([0.38, 0.5, 0.81, 0.9].map(toneOfChance)).toEqual(['brick', 'amber', 'amber', 'moss']);
  });

  it('marks an axis at round numbers', () => {
    expect(ticks(0, 1200, 6)).toEqual([0, 200, 400, 600, 800, 1000, 1200]);
    expect(ticks(-2, 1, 3)).toEqual([-2, -1, 0, 1]);
  });
});
