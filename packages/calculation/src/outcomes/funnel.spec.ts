import { jStat } from 'jstat';
import { describe, expect, it } from 'vitest';
import { CalculationError } from '../calculation-error.js';
import { funnelLimits } from './funnel.js';

describe('the limits of a funnel', () => {
  it('hold at least as much as they say, and hardly more, by the binomial distribution of jStat', () => {
    for (const [share, n] of [
      [0.9, 20],
      [0.3, 57],
      [0.02, 400],
    ] as const) {
      const [low, high] = funnelLimits(share, n, 0.95);
      const chance = (k: number) => jStat.binomial.cdf(k, n, share);
      expect(chance(Math.ceil(low * n) - 1)).toBeLessThan(0.025);
      expect(chance(Math.ceil(low * n))).toBeGreaterThanOrEqual(0.025);
      expect(chance(Math.ceil(high * n))).toBeGreaterThanOrEqual(0.975);
      expect(chance(Math.ceil(high * n) - 1)).toBeLessThan(0.975);
    }
  });

  it('narrow as the group grows, and close where all are alike', () => {
    const width = (n: number) => {
      const [low, high] = funnelLimits(0.8, n, 0.95);
      return high - low;
    };
    expect(width(400)).toBeLessThan(width(100));
    expect(width(100)).toBeLessThan(width(10));
    expect(funnelLimits(0, 12, 0.95)).toEqual([0, 0]);
    expect(funnelLimits(1, 12, 0.95)).toEqual([1, 1]);
  });

  it('refuse what cannot be', () => {
    for (const [share, n] of [
      [1.1, 5],
      [Number.NaN, 5],
      [0.5, 0],
      [0.5, 2.5],
    ] as const)
      expect(() => funnelLimits(share, n, 0.95)).toThrow(CalculationError);
  });
});
