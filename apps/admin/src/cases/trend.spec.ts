import { describe, expect, it } from 'vitest';
import { trendOf } from './trend';

const readings = [
  { takenOn: '2026-06-01', value: 54 },
  { takenOn: '2026-01-01', value: 53 },
  { takenOn: '2026-11-01', value: 55 },
];

describe('a trend', () => {
  it('goes from the first reading to the last, upwards when they grow', () => {
    const { points } = trendOf(readings, null, 300, 90);
    expect(points.map(({ reading }) => reading.value)).toEqual([53, 54, 55]);
    expect(points[0]?.x).toBe(0);
    expect(points[2]?.x).toBe(300);
    expect(points[0]?.y).toBeGreaterThan(points[2]?.y ?? 0);
  });

  it('draws the noise of the measurement around the mean', () => {
    const { band, points } = trendOf(readings, 1.23, 300, 90);
    expect(band?.top).toBeLessThan(points[1]?.y ?? 0);
    expect(band?.bottom).toBeGreaterThan(points[1]?.y ?? 0);
  });

  it('can show a single reading', () => {
    const { points, marks } = trendOf([{ takenOn: '2026-01-01', value: 3.2 }], null, 300, 90);
    expect(points).toHaveLength(1);
    expect(points[0]?.y).toBeCloseTo(45);
    expect(marks.every(({ y }) => Number.isFinite(y))).toBe(true);
  });
});
