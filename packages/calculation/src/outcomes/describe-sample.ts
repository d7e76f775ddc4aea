import { CalculationError } from '../calculation-error.js';

/** Plain figures of one sample, in its own unit. */
export interface SampleSummary {
  readonly n: number;
  readonly mean: number;
  /** Standard deviation with n - 1; 0 for a single value. */
  readonly sd: number;
  readonly median: number;
  readonly lowerQuartile: number;
  readonly upperQuartile: number;
  readonly min: number;
  readonly max: number;
}

/** Throws CalculationError unless there are at least `least` values and all are finite. */
export function requireSample(field: string, values: readonly number[], least: number): void {
  if (values.length < least) {
    throw new CalculationError('input.missing', field, values.length, `at least ${least} values`);
  }
  values.forEach((value, i) => {
    if (!Number.isFinite(value)) {
      throw new CalculationError('input.not-a-number', `${field}[${i}]`, value, 'a finite number');
    }
  });
}

/** The mean; empty samples are refused before. */
export function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Variance with n - 1. */
export function varianceOf(values: readonly number[]): number {
  const mean = meanOf(values);
  return values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1);
}

/**
 * The quantile of sorted values with linear interpolation (type 7).
 * @source Hyndman & Fan. Am Stat 1996;50:361-365
 */
export function sortedQuantile(sorted: readonly number[], p: number): number {
  const at = (sorted.length - 1) * p;
  const below = sorted[Math.floor(at)] ?? 0;
  const above = sorted[Math.ceil(at)] ?? below;
  return below + (above - below) * (at - Math.floor(at));
}

/** Describes a sample of at least one value. Throws CalculationError when it is empty or holds no finite number. */
export function describeSample(values: readonly number[]): SampleSummary {
  requireSample('values', values, 1);
  const sorted = [...values].sort((a, b) => a - b);
  return {
    n: values.length,
    mean: meanOf(values),
    sd: values.length > 1 ? Math.sqrt(varianceOf(values)) : 0,
    median: sortedQuantile(sorted, 0.5),
    lowerQuartile: sortedQuantile(sorted, 0.25),
    upperQuartile: sortedQuantile(sorted, 0.75),
    min: sorted[0] as number,
    max: sorted.at(-1) as number,
  };
}
