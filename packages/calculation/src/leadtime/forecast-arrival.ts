import { CalculationError, requireNumber } from '../calculation-error.js';
import { conditionOnAwaited, learnArrivalLaw, type ConditionalArrival } from './arrival-law.js';
import type { ArrivalPrior } from './centre-law.js';
import { countOrders, requireRecords, requireWholeDays, type LeadTimeRecord } from './lead-time-record.js';

/** What a maker quotes for this class of lens. */
export interface LeadTimeQuote {
  /** Quoted working days from sending to arrival, 1 to 400. */
  readonly workingDays: number;
  /** How many arrivals the quote weighs against the history; 2 when left out (own choice, no source). */
  readonly priorOrders?: number | undefined;
}

/** What is known of the one order beyond its age. All counts are whole working days. */
export interface ArrivalEvidence {
  /** The maker took the order, so it can no longer be declined outright. */
  readonly acknowledged?: boolean | undefined;
  /** Working days from now to the date promised last; negative when it has passed. */
  readonly promisedInDays?: number | undefined;
  /** Working days since the lens was shipped, 0 or more. */
  readonly shippedDaysAgo?: number | undefined;
  /** Working days in transit that the carrier announced, counted from shipping; 2 when left out. */
  readonly transitDays?: number | undefined;
}

/** When an awaited lens will come, counted in working days from now. */
export interface ArrivalForecast {
  /** Which clock the forecast runs on: the last and strongest piece of evidence. */
  readonly basis: 'quote-and-history' | 'promise' | 'shipping';
  /** Orders of the history that the forecast rests on, beside its prior. */
  readonly ordersBehind: number;
  /** Days by which 1, 5 and 9 in 10 lenses that come at all will have come. */
  readonly p10: number;
  readonly p50: number;
  readonly p90: number;
  /** The first day by which the share `p` (0 to 1, both excluded) of lenses that come at all will have come. */
  quantile(p: number): number;
  /** Chance that the lens is here by the end of that many working days from now, cancellation allowed for; 0 for 0 or fewer. */
  chanceBy(days: number): number;
  /** Chance that it never comes. */
  readonly chanceCancelled: number;
  /** Chance of arrival on each day from tomorrow (index 0) on; with `chanceCancelled` and `chanceLater` it adds up to 1. */
  readonly daily: readonly number[];
  /** Chance of arrival after the last day of `daily`. */
  readonly chanceLater: number;
}

const DEFAULT_PRIOR_ORDERS = 2;
// Own choices, no source: lead times spread by about a quarter of the quote; a promise is kept within about a
// fifth of what is left, never closer than two days; parcels vary by about a day.
const QUOTE_STEEPNESS = 5;
const DAILY_CANCELLATION = 0.0015;
const DAILY_CANCELLATION_ACKNOWLEDGED = 0.0005;
const TRANSIT_STEEPNESS = 3;
const DEFAULT_TRANSIT_DAYS = 2;

/**
 * Forecasts the arrival of one awaited lens.
 * Without promise or shipping notice the clock runs from sending, the history is how long such orders took
 * (open ones included) and the prior is centred on the quote. With a promise the clock runs against the
 * promise and the history is how far promises slipped. Once shipped, it is the time in transit.
 * @param openSinceDays whole working days since the order was sent, 0 for an order that is yet to be sent.
 * Throws CalculationError naming the field that is no whole number of days in its range.
 * @example forecastArrival([], { workingDays: 30 }, 0, {}).p50 // 30
 */
export function forecastArrival(
  history: readonly LeadTimeRecord[],
  quote: LeadTimeQuote,
  openSinceDays: number,
  evidence: ArrivalEvidence = {},
): ArrivalForecast {
  requireRecords('history', history);
  requireNumber('quote.workingDays', quote.workingDays, { min: 1, max: 400, unit: 'working days' });
  const priorOrders = quote.priorOrders ?? DEFAULT_PRIOR_ORDERS;
  requireNumber('quote.priorOrders', priorOrders, { min: 0.1, max: 1000, unit: 'orders' });
  requireWholeDays('openSinceDays', openSinceDays);
  if (evidence.shippedDaysAgo !== undefined)
    return onShippingClock(history, evidence, evidence.shippedDaysAgo, priorOrders);
  if (evidence.promisedInDays !== undefined) {
    return onPromiseClock(history, evidence.promisedInDays, openSinceDays, priorOrders);
  }
  const acknowledged = evidence.acknowledged === true;
  const relevant = acknowledged ? history.filter((record) => !wasDeclined(record)) : history;
  const prior = {
    medianDays: quote.workingDays,
    steepness: QUOTE_STEEPNESS,
    orders: priorOrders,
    dailyCancellation: acknowledged ? DAILY_CANCELLATION_ACKNOWLEDGED : DAILY_CANCELLATION,
  };
  return forecast('quote-and-history', relevant, prior, openSinceDays);
}

function wasDeclined(record: LeadTimeRecord): boolean {
  return record.outcome === 'cancelled' && record.acknowledged === false;
}

function onPromiseClock(
  history: readonly LeadTimeRecord[],
  promisedInDays: number,
  openSinceDays: number,
  priorOrders: number,
): ArrivalForecast {
  requireWholeDays('evidence.promisedInDays', promisedInDays, {
    min: -1000,
    max: 1000,
    unit: 'working days',
  });
  // Slips may be negative; counting from some days before the promise makes every clock start at 0 or later.
  const slips = history.flatMap(({ workingDays, promisedWorkingDays, outcome, orders }) =>
    promisedWorkingDays === undefined ? [] : [{ slip: workingDays - promisedWorkingDays, outcome, orders }],
  );
  const lead = Math.max(
    openSinceDays + promisedInDays,
    promisedInDays,
    10,
    ...slips.map(({ slip }) => -slip),
  );
  const shifted = slips.map(({ slip, outcome, orders }) => ({ workingDays: slip + lead, outcome, orders }));
  const spreadDays = Math.max(2, 0.18 * Math.max(0, promisedInDays));
  const prior = {
    medianDays: lead,
    steepness: Math.min(60, (1.3 * lead) / spreadDays),
    orders: priorOrders,
    dailyCancellation: DAILY_CANCELLATION_ACKNOWLEDGED,
  };
  return forecast('promise', shifted, prior, lead - promisedInDays);
}

function onShippingClock(
  history: readonly LeadTimeRecord[],
  evidence: ArrivalEvidence,
  shippedDaysAgo: number,
  priorOrders: number,
): ArrivalForecast {
  requireWholeDays('evidence.shippedDaysAgo', shippedDaysAgo);
  const transitDays = evidence.transitDays ?? DEFAULT_TRANSIT_DAYS;
  requireWholeDays('evidence.transitDays', transitDays, { min: 0, max: 200, unit: 'working days' });
  const transits = history.flatMap(({ workingDays, shippedAfterWorkingDays, outcome, orders }) => {
    if (shippedAfterWorkingDays === undefined) return [];
    const inTransit = workingDays - shippedAfterWorkingDays;
    if (inTransit < 0) {
      throw new CalculationError(
        'input.contradiction',
        'history.shippedAfterWorkingDays',
        shippedAfterWorkingDays,
        'no later than the last day of the order',
      );
    }
    return [{ workingDays: inTransit, outcome, orders }];
  });
  const prior = {
    medianDays: Math.max(0.5, transitDays),
    steepness: TRANSIT_STEEPNESS,
    orders: priorOrders,
    dailyCancellation: DAILY_CANCELLATION_ACKNOWLEDGED,
  };
  return forecast('shipping', transits, prior, shippedDaysAgo);
}

function forecast(
  basis: ArrivalForecast['basis'],
  records: readonly LeadTimeRecord[],
  prior: ArrivalPrior,
  after: number,
): ArrivalForecast {
  return describe(basis, countOrders(records), conditionOnAwaited(learnArrivalLaw(records, prior), after));
}

function describe(
  basis: ArrivalForecast['basis'],
  ordersBehind: number,
  { arriving, cancelled, beyond }: ConditionalArrival,
): ArrivalForecast {
  const byDay: number[] = [];
  let sum = 0;
  for (const chance of arriving) byDay.push((sum += chance));
  const coming = sum + beyond;
  const quantile = (p: number): number => {
    requireNumber('p', p, { min: Number.MIN_VALUE, max: 1 - 2 ** -53, unit: '' });
    const index = byDay.findIndex((chance) => chance >= p * coming * (1 - 1e-12));
    return (index < 0 ? byDay.length : index) + 1;
  };
  return {
    basis,
    ordersBehind,
    p10: quantile(0.1),
    p50: quantile(0.5),
    p90: quantile(0.9),
    quantile,
    chanceBy(days) {
      if (typeof days !== 'number' || Number.isNaN(days)) {
        throw new CalculationError('input.not-a-number', 'days', days, 'a number of working days');
      }
      const whole = Math.floor(days);
      return whole < 1 ? 0 : (byDay[Math.min(whole, byDay.length) - 1] ?? 0);
    },
    chanceCancelled: cancelled,
    daily: arriving,
    chanceLater: beyond,
  };
}
