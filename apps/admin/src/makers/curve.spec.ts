import { describe, expect, it } from 'vitest';
import { BOX, lineOf, xOf, yOf } from './curve';

describe('the curve of arrivals', () => {
  const steps = [
    { day: 10, atRisk: 4, arrived: 0.5, low: 0.2, high: 0.8 },
    { day: 20, atRisk: 2, arrived: 1, low: 1, high: 1 },
  ];

  it('holds each share until the next day on which something came', () => {
    const { arrived } = lineOf({ steps }, 20);
    const at = (day: number, share: number) => `${xOf(day, 20).toFixed(1)} ${yOf(share).toFixed(1)}`;
    expect(arrived).toBe(
      `M ${[at(0, 0), at(10, 0), at(10, 0.5), at(20, 0.5), at(20, 1), at(20, 1)].join(' L ')}`,
    );
  });

  it('closes its limits, and stays inside its box', () => {
    const { limits } = lineOf({ steps }, 20);
    expect(limits).toMatch(/Z$/);
    const numbers = limits.match(/[\d.]+ [\d.]+/g)!.map((pair) => pair.split(' ').map(Number));
    for (const [x, y] of numbers) {
      expect(x).toBeGreaterThanOrEqual(BOX.left);
      expect(x).toBeLessThanOrEqual(BOX.width - BOX.right);
      expect(y).toBeGreaterThanOrEqual(BOX.top);
      expect(y).toBeLessThanOrEqual(BOX.height - BOX.bottom);
    }
  });
});
