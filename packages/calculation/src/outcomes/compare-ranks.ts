import { requireSample } from './describe-sample.js';
import { normalBelow } from '../uncertainty/normal.js';

/** The Mann-Whitney test and how its p was found. */
export interface MannWhitneyTest {
  readonly test: 'Mann-Whitney test, exact' | 'Mann-Whitney test, normal approximation';
  /** Pairs in which the value of the first group is the larger; ties count half. */
  readonly u: number;
  readonly p: number;
  /** Chance that a value of the first group is larger than one of the second, ties half. */
  readonly chanceFirstLarger: number;
}

/** Above this many values in either group the exact distribution says no more than the approximation. */
const EXACT_BELOW = 50;

/**
 * Two-sided Mann-Whitney test. Exact when both groups hold fewer than 50 values and no two values are equal;
 * else the normal approximation with correction for ties and continuity, as R's wilcox.test does.
 * Throws CalculationError for an empty group or a value that is not finite. All values equal give p = 1.
 * @source Mann & Whitney. Ann Math Stat 1947;18:50-60
 */
export function mannWhitneyTest(first: readonly number[], second: readonly number[]): MannWhitneyTest {
  requireSample('first', first, 1);
  requireSample('second', second, 1);
  const [m, n] = [first.length, second.length];
  const { rankSum, tieTerm } = rankFirst(first, second);
  const u = rankSum - (m * (m + 1)) / 2;
  const chanceFirstLarger = u / (m * n);
  if (tieTerm === 0 && m < EXACT_BELOW && n < EXACT_BELOW) {
    return { test: 'Mann-Whitney test, exact', u, p: exactP(u, m, n), chanceFirstLarger };
  }
  const total = m + n;
  const variance = ((m * n) / 12) * (total + 1 - tieTerm / (total * (total - 1)));
  const distance = Math.max(0, Math.abs(u - (m * n) / 2) - 0.5);
  const p = variance === 0 ? 1 : Math.min(1, 2 * normalBelow(-distance / Math.sqrt(variance)));
  return { test: 'Mann-Whitney test, normal approximation', u, p, chanceFirstLarger };
}

function rankFirst(first: readonly number[], second: readonly number[]) {
  const all = [
    ...first.map((value) => ({ value, own: true })),
    ...second.map((value) => ({ value, own: false })),
  ];
  all.sort((a, b) => a.value - b.value);
  let rankSum = 0;
  let tieTerm = 0;
  for (let from = 0; from < all.length;) {
    let to = from;
    while (to < all.length && all[to]?.value === all[from]?.value) to += 1;
    const ties = to - from;
    const rank = (from + 1 + to) / 2;
    for (let i = from; i < to; i += 1) if (all[i]?.own) rankSum += rank;
    tieTerm += ties ** 3 - ties;
    from = to;
  }
  return { rankSum, tieTerm };
}

/** Two-sided p from the count of rank orders for each u: coefficients of the Gaussian binomial. */
function exactP(u: number, m: number, n: number): number {
  const size = m * n + 1;
  let counts = new Float64Array(size);
  counts[0] = 1;
  // Multiply by (1 - q^(n+i)) and divide by (1 - q^i): both are running differences and sums.
  for (let i = 1; i <= m; i += 1) {
    const next = Float64Array.from(counts);
    for (let k = size - 1; k >= n + i; k -= 1) next[k] = (next[k] ?? 0) - (next[k - n - i] ?? 0);
    for (let k = i; k < size; k += 1) next[k] = (next[k] ?? 0) + (next[k - i] ?? 0);
    counts = next;
  }
  const all = counts.reduce((sum, count) => sum + count, 0);
  const extreme = Math.min(u, m * n - u);
  let tail = 0;
  for (let k = 0; k <= extreme; k += 1) tail += counts[k] ?? 0;
  return Math.min(1, (2 * tail) / all);
}
