import { CalculationError, requireNumber } from '../calculation-error.js';
import { logGamma } from './distributions.js';

/**
 * Where the share of a group of `n` would lie in `level` of cases if its true share were `share`: the limits of a
 * funnel plot, so that a small group is not shamed by chance. Interpolated between whole counts.
 * Throws CalculationError for a share outside 0 to 1 or an n that is not a whole number from 1 on.
 * @source Spiegelhalter. Stat Med 2005;24:1185-1202 (from memory)
 * @example funnelLimits(0.9, 20, 0.95) // [0.722, 0.990]
 */
export function funnelLimits(share: number, n: number, level: number): [number, number] {
  requireNumber('share', share, { min: 0, max: 1, unit: '' });
  requireNumber('level', level, { min: 0.5, max: 0.9999, unit: '' });
  if (!Number.isInteger(n) || n < 1 || n > 1e6) {
    throw new CalculationError('input.out-of-range', 'n', n, 'a whole number from 1 to 1 000 000');
  }
  if (share === 0 || share === 1) return [share, share];
  return [quantile(share, n, (1 - level) / 2), quantile(share, n, (1 + level) / 2)];
}

function quantile(share: number, n: number, p: number): number {
  let below = 0;
  for (let count = 0; count <= n; count += 1) {
    const chance = Math.exp(
      logGamma(n + 1) -
        logGamma(count + 1) -
        logGamma(n - count + 1) +
        count * Math.log(share) +
        (n - count) * Math.log1p(-share),
    );
    if (below + chance >= p) return Math.max(0, count - (below + chance - p) / chance) / n;
    below += chance;
  }
  // Rounding kept the sum a hair below p.
  return 1;
}
