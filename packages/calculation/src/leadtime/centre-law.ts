import { logGamma } from '../outcomes/distributions.js';
import type { LeadTimeRecord } from './lead-time-record.js';

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

/** Natural logarithm of the share still awaited after a time in working days. */
export type LogAwaited = (days: number) => number;

// Shapes around the likeliest one and what each is trusted with beforehand (own choice, no source).
const SHAPES = [0.4, 0.6, 0.8, 1, 1.3, 1.7, 2.2, 3, 4.5];
const TRUST = [0.05, 0.1, 0.2, 0.27, 0.18, 0.1, 0.05, 0.03, 0.02];

/**
 * The smooth law of lead times that prior and records agree on, in closed form: for each of nine shapes k the
 * powers (t / median)^k are exponential with a gamma prior on their rate, so open orders count with the time
 * they have been open, and what is predicted is (1 + u / B)^-A; shapes are weighed by how well they explain the
 * records.
 * @source gamma-exponential conjugacy of censored Weibull times: Sun & Berger, J Stat Plan Inference 1994;42:1-23 (from memory)
 */
export function fitCentreLaw(records: readonly LeadTimeRecord[], prior: ArrivalPrior): LogAwaited {
  // Whole days stand for the day around them; an order that is still open has lived through the whole of its day.
  const times = records.map(({ workingDays, outcome }) =>
    Math.log((outcome === 'open' ? workingDays + 0.5 : Math.max(workingDays, 0.5)) / prior.medianDays),
  );
  const arrivals = records.filter(({ outcome }) => outcome === 'arrived').length;
  const sumOfLogs = records.reduce(
    (sum, { outcome }, i) => sum + (outcome === 'arrived' ? (times[i] ?? 0) : 0),
    0,
  );
  const a = prior.orders + arrivals;
  // With this rate half of the prior's lead times lie below its median.
  const rate = 1 / (2 ** (1 / prior.orders) - 1);
  const fits = SHAPES.map((relative, i) => {
    const shape = relative * prior.steepness;
    const b = times.reduce((sum, time) => sum + Math.exp(shape * time), rate);
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
  return (days) => {
    if (days <= 0) return 0;
    const time = Math.log(days / prior.medianDays);
    return logOfSum(
      fits.map(({ shape, b, logWeight }) => logWeight - total - a * Math.log1p(Math.exp(shape * time) / b)),
    );
  };
}

function logOfSum(logs: readonly number[]): number {
  const top = Math.max(...logs);
  if (top === -Infinity) return top;
  return top + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - top), 0));
}
