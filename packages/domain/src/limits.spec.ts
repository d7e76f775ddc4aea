import { requireBands } from '@lensferry/calculation';
import { describe, expect, it } from 'vitest';
import {
  faultOfLimit,
  limitGroups,
  limitKeys,
  limits,
  risingLimits,
  usualLimits,
  type Limit,
} from './limits.js';

describe('the limits of the network', () => {
  it('are usual within their own range, and each is fit to be set to what it is', () => {
    for (const key of limitKeys) expect(faultOfLimit(key, usualLimits[key], usualLimits), key).toBeNull();
    expect(new Set(limitKeys.map((key) => limits[key].group))).toEqual(new Set(limitGroups));
  });

  it('refuse what is outside their range, not a number, or broken where it counts whole things', () => {
    for (const key of limitKeys) {
      const { least, most, whole } = limits[key] as Limit;
      for (const wrong of [least - 1e-6, most + 1e-6, Number.NaN, Number.POSITIVE_INFINITY])
        expect(faultOfLimit(key, wrong, usualLimits), key).toEqual({ say: 'range' });
      if (whole) expect(faultOfLimit(key, least + 0.5, usualLimits), key).toEqual({ say: 'whole' });
    }
  });

  it('can come as near as they may but never pass by one another', () => {
    for (const [lower, upper, apart] of risingLimits) {
      const meeting = usualLimits[upper] - apart;
      expect(faultOfLimit(lower, meeting, usualLimits)).toBeNull();
      const above = (limits[lower] as Limit).whole ? meeting + 1 : meeting + 0.01;
      expect(faultOfLimit(lower, above, usualLimits)).toEqual({ say: 'above', passes: upper, at: meeting });
      const low = usualLimits[lower] + apart;
      const below = (limits[upper] as Limit).whole ? low - 1 : low - 0.01;
      expect(faultOfLimit(upper, below, usualLimits)).toEqual({ say: 'below', passes: lower, at: low });
    }
  });

  it('always leave an intended vault that vaults can be judged by', () => {
    for (const key of ['vaultLowBelowUm', 'vaultHighAboveUm'] as const)
      for (let value = 0; value <= 2000; value += 0.5) {
        if (faultOfLimit(key, value, usualLimits) !== null) continue;
        const { vaultLowBelowUm: lowBelowUm, vaultHighAboveUm: highAboveUm } = {
          ...usualLimits,
          [key]: value,
        };
        expect(() => requireBands({ lowBelowUm, highAboveUm }), `${key} ${value}`).not.toThrow();
      }
  });
});
