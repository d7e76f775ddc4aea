import { requireNumber } from '../calculation-error.js';
import { emptyVector, sphericalEquivalentD } from '../optics/power-vector.js';
import type { PhakicEye, PowerVector, SphereCylinder } from '../optics/types.js';
import { DIMENSIONS, perturbedOutcome } from './perturbed-outcome.js';
import { normalPoints } from './quasi-random.js';
import { DEFAULT_SPREADS, requireSpreads, type OutcomeSpreads } from './spreads.js';

/** The values that 10, 50 and 90 of 100 such eyes stay at or below. */
export interface Interval {
  readonly p10: number;
  readonly p50: number;
  readonly p90: number;
}

/** Where the refraction of such an eye is likely to end. */
export interface ExpectedOutcome {
  /** Chance, 0 to 1, that the spherical equivalent ends within 0.50 D of the target's. */
  readonly withinHalfD: number;
  /** The same within 1.00 D. */
  readonly withinOneD: number;
  /** Spherical equivalent at the spectacle plane, in D. */
  readonly sphericalEquivalentD: Interval;
  /** Cylinder in minus form at the spectacle plane, in D: p10 is the strongest. */
  readonly cylinderD: Interval;
  /** Distance of the whole refraction from the target as a power vector, in D, 0 or more. */
  readonly blurD: Interval;
  /** The first samples as power vectors, in D, for a plot. */
  readonly cloud: readonly PowerVector[];
  readonly samples: number;
  /** One plain sentence: that some error is likely to remain, and how much. */
  readonly statement: string;
}

/** Settings of the sampling. */
export interface OutcomeOptions {
  /** 1 to 1 000 000; 2 000 when left out. */
  readonly samples?: number;
  /** The same seed gives the same answer; 5 when left out, a seed whose margins were checked. */
  readonly seed?: number;
  /** How many samples go into the cloud; 200 when left out. */
  readonly cloudCount?: number;
  /** How many refractions the measured one is the mean of; its spread shrinks by the root. */
  readonly refractionCount?: number;
}

/**
 * Spreads an eye and a lens into the outcomes that its measurements, the surgery and the making of
 * the lens allow: deterministic quasi-random samples through the exact optics. The chances count
 * the spherical equivalent against the target's, as outcome reports do.
 * Throws CalculationError naming field, value and range for input that cannot be.
 * @source Reinstein, Archer, Randleman. J Refract Surg 2014 (accuracy by spherical equivalent);
 * spreads: see OUTCOME_SPREADS
 * @example expectedOutcome(eye, idealLens(eye)).withinHalfD
 */
export function expectedOutcome(
  eye: PhakicEye,
  lens: SphereCylinder,
  spreads: OutcomeSpreads = DEFAULT_SPREADS,
  options: OutcomeOptions = {},
): ExpectedOutcome {
  const { samples = 2000, seed = 5, cloudCount = 200 } = options;
  requireNumber('cloudCount', cloudCount, { min: 0, max: 1_000_000, unit: 'samples' });
  const used = meanedSpreads(spreads, options.refractionCount ?? 1);
  const run = perturbedOutcome(eye, lens, used);
  const z = normalPoints(samples, DIMENSIONS, seed);
  const target = eye.target ?? PLANO;
  const goal = vectorOf(target);
  const equivalents = new Float64Array(samples);
  const cylinders = new Float64Array(samples);
  const blurs = new Float64Array(samples);
  const cloud: PowerVector[] = [];
  const out = emptyVector();
  let half = 0;
  let one = 0;
  for (let i = 0; i < samples; i += 1) {
    run(z, i * DIMENSIONS, out);
    const { meanD, j0D, j45D } = out;
    const off = Math.abs(meanD - goal.meanD);
    if (off <= 0.5) half += 1;
    if (off <= 1) one += 1;
    equivalents[i] = meanD;
    cylinders[i] = -2 * Math.sqrt(j0D * j0D + j45D * j45D);
    const dJ0 = j0D - goal.j0D;
    const dJ45 = j45D - goal.j45D;
    blurs[i] = Math.sqrt(off * off + dJ0 * dJ0 + dJ45 * dJ45);
    if (i < cloudCount) cloud.push({ meanD, j0D, j45D });
  }
  const withinHalfD = half / samples;
  const blurD = interval(blurs);
  return {
    withinHalfD,
    withinOneD: one / samples,
    sphericalEquivalentD: interval(equivalents),
    cylinderD: interval(cylinders),
    blurD,
    cloud,
    samples,
    statement: statement(withinHalfD, one / samples, blurD),
  };
}

const PLANO: SphereCylinder = { sphereD: 0, cylinderD: 0, axisDeg: 0 };

function vectorOf(value: SphereCylinder): PowerVector {
  const double = (value.axisDeg * Math.PI) / 90;
  const half = value.cylinderD / 2;
  return {
    meanD: sphericalEquivalentD(value),
    j0D: -half * Math.cos(double),
    j45D: -half * Math.sin(double),
  };
}

/** The spreads when the refraction is a mean of several; checks them. */
export function meanedSpreads(spreads: OutcomeSpreads, refractionCount: number): OutcomeSpreads {
  requireSpreads(spreads);
  requireNumber('refractionCount', refractionCount, { min: 1, max: 100, unit: 'refractions' });
  if (refractionCount === 1) return spreads;
  const shrink = 1 / Math.sqrt(refractionCount);
  const { meanD, j0D, j45D } = spreads.refraction;
  return {
    ...spreads,
    refraction: { meanD: meanD * shrink, j0D: j0D * shrink, j45D: j45D * shrink },
  };
}

/** Sorts the values in place and reads p10, p50 and p90 off them, between neighbours by line. */
function interval(values: Float64Array): Interval {
  values.sort();
  const at = (p: number): number => {
    const place = p * (values.length - 1);
    const low = Math.floor(place);
    const below = values[low] as number;
    const above = values[Math.min(low + 1, values.length - 1)] as number;
    return below + (above - below) * (place - low) + 0;
  };
  return { p10: at(0.1), p50: at(0.5), p90: at(0.9) };
}

function statement(withinHalfD: number, withinOneD: number, blurD: Interval): string {
  const inTen = (chance: number): string => `about ${Math.round(chance * 10)} of 10`;
  return (
    `Some error is likely to remain: ${inTen(withinHalfD)} such eyes end within 0.50 D of the ` +
    `target in spherical equivalent and ${inTen(withinOneD)} within 1.00 D; half of them keep ` +
    `more than ${blurD.p50.toFixed(2)} D of blur.`
  );
}
