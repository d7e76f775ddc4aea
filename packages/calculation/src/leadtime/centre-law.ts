import { logGamma } from '../outcomes/distributions.js';
import type { RiskDay } from './lead-time-record.js';

/** What is believed of a lead time before any order: a centre in working days, its spread and its weight. */
export interface ArrivalPrior {
  /** Half of all lenses are expected to have come by then; above 0. */
  readonly medianDays: number;
  /** Likeliest Weibull shape: lead times spread by about 1.3 / steepness of their middle. 1 to 60. */
  readonly steepness: number;
  /** How many arrivals the centre weighs. */
  readonly orders: number;
  /** Chance per day that an order is cancelled while it is awaited. */
  readonly dailyCancellation: number;
}

/** The share still awaited after a time in working days; above 0 for any time up to a thousand medians. */
export type Awaited = (days: number) => number;

// Shapes around the likeliest one and what each is trusted with beforehand (own choice, no source).
const SHAPES = [0.4, 0.6, 0.8, 1, 1.3, 1.7, 2.2, 3, 4.5];
const TRUST = [0.05, 0.1, 0.2, 0.27, 0.18, 0.1, 0.05, 0.03, 0.02];

// One order in eight meets trouble: a failed blank, customs, a strike (own choice, no source).
const TROUBLE_SHARE = 0.125;
const TROUBLE_STRETCH = 1.25;
const TROUBLE_SPREAD = 0.6;
// The share still awaited falls at least with the third power of time (nobody waits for years) and at most with
// the twelfth (an overdue order keeps some chance of staying so).
const WIDEST_TROUBLE = 3;
const STEEPEST_TROUBLE = 12;
const NEGLIGIBLE_WEIGHT = 1e-4;

/**
 * The smooth law of lead times that prior and records agree on, in closed form: for each of nine shapes k the
 * powers (t / median)^k are exponential with a gamma prior on their rate, so open orders count with the time
 * they have been open, and what is predicted is (1 + u / B)^-A; shapes are weighed by how well they explain the
 * records, which are given by day. One order in eight is given a later and wider law around the same middle.
 * @source gamma-exponential conjugacy of censored Weibull times: Sun & Berger, J Stat Plan Inference 1994;42:1-23 (from memory)
 */
export function fitCentreLaw(
  records: readonly Pick<RiskDay, 'day' | 'arrived' | 'cancelled' | 'open'>[],
  prior: ArrivalPrior,
): Awaited {
  // Whole days stand for the day around them; an order that is still open has lived through the whole of its day.
  const timed = records.flatMap(({ day, arrived, cancelled, open }) => [
    { time: Math.log(Math.max(day, 0.5) / prior.medianDays), orders: arrived + cancelled, arrived },
    { time: Math.log((day + 0.5) / prior.medianDays), orders: open, arrived: 0 },
  ]);
  const times = timed.filter(({ orders }) => orders > 0);
  const arrivals = times.reduce((sum, { arrived }) => sum + arrived, 0);
  const sumOfLogs = times.reduce((sum, { time, arrived }) => sum + arrived * time, 0);
  const a = prior.orders + arrivals;
  // With this rate half of the prior's lead times lie below its median.
  const rate = 1 / (2 ** (1 / prior.orders) - 1);
  const fits = SHAPES.map((relative, i) => {
    const shape = relative * prior.steepness;
    const b = times.reduce((sum, { time, orders }) => sum + orders * Math.exp(shape * time), rate);
    const evidence =
      arrivals * Math.log(shape) +
      shape * sumOfLogs +
      logGamma(a) -
      logGamma(prior.orders) +
      prior.orders * Math.log(rate) -
      a * Math.log(b);
    return { shape, b, logWeight: Math.log(TRUST[i] ?? 1) + evidence };
  });
  const total = logOfSum(fits.map(({ logWeight }) => logWeight));
  const parts = fits
    .map(({ shape, b, logWeight }) => ({ shape, b, weight: Math.exp(logWeight - total) }))
    .filter(({ weight }) => weight > NEGLIGIBLE_WEIGHT)
    .map((fit) => ({ ...fit, ...troubleAround(fit.shape, fit.b, a) }));
  const kept = parts.reduce((sum, { weight }) => sum + weight, 0);
  return (days) => {
    if (days <= 0) return 1;
    const time = Math.log(days / prior.medianDays);
    let awaited = 0;
    for (const { shape, b, weight, power, logMiddle } of parts) {
      const usual = Math.exp(-a * Math.log1p(Math.exp(shape * time) / b));
      const troubled = 1 / (1 + Math.exp(power * (time - logMiddle)));
      awaited += (weight / kept) * ((1 - TROUBLE_SHARE) * usual + TROUBLE_SHARE * troubled);
    }
    return awaited;
  };
}

/**
 * Most orders follow the law that was fitted; those in trouble take a quarter longer in the middle and spread far
 * more widely (log-logistic), so that an order which is overdue is not expected tomorrow.
 */
function troubleAround(shape: number, b: number, a: number): { power: number; logMiddle: number } {
  const logMedian = (Math.log(b) + Math.log(Math.expm1(Math.LN2 / a))) / shape;
  return {
    power: Math.min(STEEPEST_TROUBLE, Math.max(WIDEST_TROUBLE, TROUBLE_SPREAD * shape)),
    logMiddle: logMedian + Math.log(TROUBLE_STRETCH),
  };
}

function logOfSum(logs: readonly number[]): number {
  const top = Math.max(...logs);
  return top + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - top), 0));
}
