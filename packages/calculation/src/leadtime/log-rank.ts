import { CalculationError } from '../calculation-error.js';
import { chiSquareAbove } from '../outcomes/distributions.js';
import { solveLinear } from '../outcomes/solve-linear.js';
import { countOrders, requireRecords, riskTable, type LeadTimeRecord } from './lead-time-record.js';

/** The result of a log-rank test. */
export interface LogRankTest {
  readonly test: 'log-rank';
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  readonly p: number;
  /** Arrivals seen and expected in each group if all groups were alike. */
  readonly groups: readonly { readonly observed: number; readonly expected: number }[];
}

/**
 * Log-rank test between the lead times of two or more makers. Cancelled orders count as censored.
 * Throws CalculationError when there are fewer than two groups, one is empty, or nothing can be compared
 * because no arrival fell while two groups still had orders awaited.
 * @source Mantel. Cancer Chemother Rep 1966;50:163-170; Peto & Peto. J R Stat Soc A 1972;135:185-207
 */
export function logRank(groups: readonly (readonly LeadTimeRecord[])[]): LogRankTest {
  groups.forEach((group, g) => requireRecords(`groups[${g}]`, group));
  if (groups.length < 2 || groups.some((group) => group.length === 0)) {
    throw new CalculationError(
      'input.missing',
      'groups',
      groups.length,
      'two or more groups with orders in each',
    );
  }
  const k = groups.length;
  const observed = groups.map((group) => countOrders(group.filter(({ outcome }) => outcome === 'arrived')));
  const expected = new Array<number>(k).fill(0);
  const covariance = Array.from({ length: k }, () => new Array<number>(k).fill(0));
  for (const { day, arrived, atRisk } of riskTable(groups.flat())) {
    if (arrived === 0) continue;
    const shares = groups.map(
      (group) => countOrders(group.filter(({ workingDays }) => workingDays >= day)) / atRisk,
    );
    const spread = atRisk > 1 ? (arrived * (atRisk - arrived)) / (atRisk - 1) : 0;
    shares.forEach((share, i) => {
      expected[i] = (expected[i] ?? 0) + arrived * share;
      shares.forEach((other, j) => {
        const row = covariance[i] as number[];
        row[j] = (row[j] ?? 0) + spread * ((i === j ? share : 0) - share * other);
      });
    });
  }
  // The differences add up to zero, so the last group carries nothing of its own.
  const differences = observed.slice(0, -1).map((count, i) => count - (expected[i] ?? 0));
  const solved = solveLinear(
    covariance.slice(0, -1).map((row) => row.slice(0, -1)),
    differences,
  );
  if (solved === null) {
    throw new CalculationError(
      'input.missing',
      'groups',
      groups.length,
      'groups that were awaited at the same time on some day with an arrival',
    );
  }
  const chiSquare = differences.reduce((sum, d, i) => sum + d * (solved[i] ?? 0), 0);
  return {
    test: 'log-rank',
    chiSquare,
    degreesOfFreedom: k - 1,
    p: chiSquareAbove(chiSquare, k - 1),
    groups: observed.map((count, i) => ({ observed: count, expected: expected[i] ?? 0 })),
  };
}
