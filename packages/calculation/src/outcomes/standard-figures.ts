import { CalculationError, requireNumber } from '../calculation-error.js';
import { decimalFromLogMar, linesGained } from '../acuity/acuity.js';
import { bootstrapInterval, type BootstrapInterval, type BootstrapOptions } from './bootstrap.js';
import { requireSample } from './describe-sample.js';
import { wilsonInterval, type Proportion } from './wilson.js';

/** Acuities of one eye in logMAR. */
export interface AcuityPair {
  readonly correctedBefore: number;
  readonly after: number;
}

/** One eye's ratio of decimal acuities; above 1 is a gain. Throws CalculationError outside -0.5 to 2.5 logMAR. */
export function acuityRatio({ correctedBefore, after }: AcuityPair): number {
  return decimalFromLogMar(after) / decimalFromLogMar(correctedBefore);
}

/**
 * Efficacy index of a group when `after` is uncorrected, safety index when it is corrected: mean decimal acuity
 * after over mean corrected decimal acuity before, with a bootstrap interval. Two eyes or more.
 * @source Koch, Kohnen, Obstbaum & Rosen. J Cataract Refract Surg 1998;24:285-287 (from memory)
 */
export function acuityIndex(eyes: readonly AcuityPair[], options: BootstrapOptions = {}): BootstrapInterval {
  const decimals = eyes.map(
    ({ correctedBefore, after }) => [decimalFromLogMar(correctedBefore), decimalFromLogMar(after)] as const,
  );
  return bootstrapInterval(
    decimals,
    (drawn) => {
      let [before, now] = [0, 0];
      for (const pair of drawn) {
        before += pair[0];
        now += pair[1];
      }
      return now / before;
    },
    options,
  );
}

/** The share of eyes that see a line or better, for each line in logMAR, with Wilson limits. */
export function cumulativeAcuity(
  logMars: readonly number[],
  lines: readonly number[] = [-0.1, 0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 1],
): (Proportion & { readonly logMar: number })[] {
  requireSample('logMars', logMars, 1);
  // Chart lines are printed rounded (20/40 is 0.301): half a letter of room counts them to their line.
  return lines.map((logMar) => ({
    logMar,
    ...wilsonInterval(logMars.filter((value) => value <= logMar + 0.01).length, logMars.length),
  }));
}

/** The share of values within each distance of 0 (both signs), such as spherical equivalents within 0.5 and 1 D. */
export function sharesWithin(
  values: readonly number[],
  limits: readonly number[] = [0.25, 0.5, 1, 2],
): (Proportion & { readonly within: number })[] {
  requireSample('values', values, 1);
  return limits.map((within) => {
    requireNumber('within', within, { min: 0, max: 1e6, unit: '' });
    // Quarter steps that were subtracted may miss a limit by their last binary digit.
    const count = values.filter((value) => Math.abs(value) <= within + 1e-9).length;
    return { within, ...wilsonInterval(count, values.length) };
  });
}

/** How many lines eyes gained or lost: from -2 (two or more lost) to +2 (two or more gained). */
export function linesChanged(
  eyes: readonly { readonly beforeLogMar: number; readonly afterLogMar: number }[],
): (Proportion & { readonly lines: number })[] {
  if (eyes.length === 0) throw new CalculationError('input.missing', 'eyes', 0, 'at least one eye');
  const counts = new Map([-2, -1, 0, 1, 2].map((lines) => [lines, 0]));
  for (const { beforeLogMar, afterLogMar } of eyes) {
    const lines = Math.max(-2, Math.min(2, Math.round(linesGained(beforeLogMar, afterLogMar)) + 0));
    counts.set(lines, (counts.get(lines) ?? 0) + 1);
  }
  return [...counts].map(([lines, count]) => ({ lines, ...wilsonInterval(count, eyes.length) }));
}
