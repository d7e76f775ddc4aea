import { emptyVector, powerVector } from '../optics/power-vector.js';
import type { PhakicEye, PowerVector, SphereCylinder } from '../optics/types.js';
import { meanedSpreads, type Interval } from './expected-outcome.js';
import { normalBelow, normalQuantile } from './normal.js';
import { DIMENSIONS, perturbedOutcome, SOURCES_OF_SPREAD, type SourceOfSpread } from './perturbed-outcome.js';
import { DEFAULT_SPREADS, type OutcomeSpreads } from './spreads.js';

/** The outcome by linear propagation of errors, and what each source of spread adds to it. */
export interface FirstOrderOutcome {
  readonly mean: PowerVector;
  /** Covariance of M, J0, J45 in D², row by row. */
  readonly covariance: readonly (readonly number[])[];
  readonly withinHalfD: number;
  readonly withinOneD: number;
  readonly sphericalEquivalentD: Interval;
  /** Share of the whole variance of the power vector that each source brings, 0 to 1, largest first. */
  readonly shares: readonly { readonly source: SourceOfSpread; readonly share: number }[];
}

/**
 * The check on `expectedOutcome`, and the answer to what would narrow it: derivatives of the exact
 * optics (central differences of a tenth of a standard deviation), squared and added.
 * Good where the spreads are small against the curvature of the optics.
 * Throws CalculationError naming field, value and range for input that cannot be.
 * @source JCGM 100:2008 (GUM), law of propagation of uncertainty
 * @example firstOrderOutcome(eye, lens).shares[0].source // 'refraction-mean'
 */
export function firstOrderOutcome(
  eye: PhakicEye,
  lens: SphereCylinder,
  spreads: OutcomeSpreads = DEFAULT_SPREADS,
  options: { readonly refractionCount?: number } = {},
): FirstOrderOutcome {
  const run = perturbedOutcome(eye, lens, meanedSpreads(spreads, options.refractionCount ?? 1));
  const z = new Float64Array(DIMENSIONS);
  const mean = emptyVector();
  run(z, 0, mean);
  const slopes = SOURCES_OF_SPREAD.map((_, k) => slope(run, z, k));
  const entry = (i: 0 | 1 | 2, k: 0 | 1 | 2): number => slopes.reduce((sum, s) => sum + s[i] * s[k], 0);
  const indices = [0, 1, 2] as const;
  const covariance = indices.map((i) => indices.map((k) => entry(i, k)));
  const sdD = Math.sqrt(entry(0, 0));
  const offD = mean.meanD - powerVector(eye.target ?? PLANO).meanD;
  const spread = sdD * normalQuantile(0.9);
  return {
    mean: { ...mean },
    covariance,
    withinHalfD: chanceWithin(0.5, offD, sdD),
    withinOneD: chanceWithin(1, offD, sdD),
    sphericalEquivalentD: { p10: mean.meanD - spread, p50: mean.meanD, p90: mean.meanD + spread },
    shares: shares(slopes),
  };
}

const PLANO: SphereCylinder = { sphereD: 0, cylinderD: 0, axisDeg: 0 };

type Slope = readonly [number, number, number];

function slope(run: ReturnType<typeof perturbedOutcome>, z: Float64Array, k: number): Slope {
  const step = 0.1;
  const up = emptyVector();
  const down = emptyVector();
  z[k] = step;
  run(z, 0, up);
  z[k] = -step;
  run(z, 0, down);
  z[k] = 0;
  const per = 1 / (2 * step);
  return [(up.meanD - down.meanD) * per, (up.j0D - down.j0D) * per, (up.j45D - down.j45D) * per];
}

function chanceWithin(limitD: number, offD: number, sdD: number): number {
  if (sdD === 0) return Math.abs(offD) <= limitD ? 1 : 0;
  return normalBelow((limitD - offD) / sdD) - normalBelow((-limitD - offD) / sdD);
}

function shares(slopes: readonly Slope[]): FirstOrderOutcome['shares'] {
  const variances = slopes.map((s) => s[0] * s[0] + s[1] * s[1] + s[2] * s[2]);
  const whole = variances.reduce((sum, v) => sum + v, 0);
  return SOURCES_OF_SPREAD.map((source, k) => ({
    source,
    share: whole === 0 ? 0 : (variances[k] ?? 0) / whole,
  })).sort((a, b) => b.share - a.share);
}
