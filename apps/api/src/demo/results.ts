import { logMarFromDecimal, normalQuantile } from '@lensferry/calculation';
import type { DemoEye } from './eyes.js';

/** What a lens came to in a demo eye: the same at every visit, give or take what a visit adds. */
export interface DemoResult {
  readonly meanD: number;
  readonly cylinderD: number;
  readonly axisDeg: number;
  /** Lines of corrected acuity gained; below 0 lost. */
  readonly lines: number;
  /** How far the vault lies from the predicted one, in standard deviations. */
  readonly vaultLuck: number;
}

/** A refraction and its acuities as somebody would write them down. */
export interface DemoVisit {
  readonly sphereD: number;
  readonly cylinderD: number;
  readonly axisDeg: number;
  readonly correctedDecimal: number;
  readonly uncorrectedDecimal: number;
}

const quarter = (value: number): number => Math.round(value * 4) / 4 + 0;

/**
 * Invents a result. Most eyes come within a third of a dioptre of the aim and one in eight is well off, which makes
 * about 80 % within 0.50 D and about 90 % within 1.00 D; one in nine loses a line of corrected acuity (common practice,
 * no source). Why each distribution is as it is: docs/decisions/070-invented-results.md.
 */
export function inventResult(eye: DemoEye, roll: () => number): DemoResult {
  const normal = (sd: number): number => sd * normalQuantile(Math.min(0.9999, Math.max(0.0001, roll())));
  const meanD = roll() < 0.87 ? normal(0.32) : normal(1.5) - 0.25;
  // What is left of a high cylinder is more than of a low one, and lies near the axis that it had.
  const cylinderD = -Math.abs(normal(0.35 + 0.06 * Math.abs(eye.cylinderD)));
  const axisDeg = Math.round((((eye.axisDeg + normal(25)) % 180) + 180) % 180);
  return { meanD, cylinderD, axisDeg, lines: linesBy(roll()), vaultLuck: normal(1) };
}

function linesBy(chance: number): number {
  const shares = [
    [-2, 0.02],
    [-1, 0.09],
    [0, 0.46],
    [1, 0.3],
    [2, 0.13],
  ] as const;
  let below = 0;
  for (const [lines, share] of shares) {
    below += share;
    if (chance < below) return lines;
  }
  return 0;
}

/** How a result reads at a visit: repeats differ, and on the first days sight is not yet what it will be. */
export function resultAt(result: DemoResult, eye: DemoEye, daysAfter: number, roll: () => number): DemoVisit {
  const cylinderD = quarter(result.cylinderD);
  const meanD = result.meanD + (roll() - 0.5) * 0.4;
  const sphereD = quarter(meanD - cylinderD / 2);
  const early = daysAfter < 7 ? 1 : 0;
  const corrected = logMarFromDecimal(eye.correctedDecimal) - 0.1 * (result.lines - early);
  // A dioptre of blur costs about three lines (common practice, no source); the first quarter is not noticed.
  const blurD = Math.hypot(sphereD + cylinderD / 2, cylinderD / 2);
  const uncorrected = corrected + 0.3 * Math.max(0, blurD - 0.25);
  return {
    sphereD,
    cylinderD,
    axisDeg: result.axisDeg,
    correctedDecimal: printed(corrected),
    uncorrectedDecimal: printed(uncorrected),
  };
}

/** Whole lines, as charts have them. */
function printed(logMar: number): number {
  const line = Math.min(1.3, Math.max(-0.2, Math.round(logMar * 10) / 10));
  return Number((10 ** -line).toFixed(2));
}
