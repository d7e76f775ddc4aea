import { CalculationError } from '../calculation-error.js';
import { logGamma } from './distributions.js';

/** Fisher's exact test of two shares. */
export interface FisherTest {
  readonly test: "Fisher's exact test";
  readonly p: number;
  readonly firstShare: number;
  readonly secondShare: number;
}

function logChoose(n: number, k: number): number {
  return logGamma(n + 1) - logGamma(k + 1) - logGamma(n - k + 1);
}

function requireCount(field: string, count: number, n: number): void {
  if (Number.isInteger(n) && n >= 1 && n <= 1e6 && Number.isInteger(count) && count >= 0 && count <= n)
    return;
  throw new CalculationError(
    'input.out-of-range',
    field,
    count,
    `a whole number from 0 to its group's size (${n})`,
  );
}

/**
 * Two-sided exact test whether two shares differ: the chance of all tables with the same margins that are no
 * likelier than the one seen.
 * Throws CalculationError unless the counts are whole numbers within groups of 1 to 1 000 000.
 * @source Fisher. Statistical Methods for Research Workers, 1934
 */
export function fisherExactTest(
  first: { readonly count: number; readonly n: number },
  second: { readonly count: number; readonly n: number },
): FisherTest {
  requireCount('first.count', first.count, first.n);
  requireCount('second.count', second.count, second.n);
  const successes = first.count + second.count;
  const all = logChoose(first.n + second.n, successes);
  const chance = (k: number) => Math.exp(logChoose(first.n, k) + logChoose(second.n, successes - k) - all);
  // Tables that are equally likely differ in their last digits only.
  const limit = chance(first.count) * (1 + 1e-7);
  let p = 0;
  for (let k = Math.max(0, successes - second.n); k <= Math.min(first.n, successes); k += 1) {
    const likely = chance(k);
    if (likely <= limit) p += likely;
  }
  return {
    test: "Fisher's exact test",
    p: Math.min(1, p),
    firstShare: first.count / first.n,
    secondShare: second.count / second.n,
  };
}
