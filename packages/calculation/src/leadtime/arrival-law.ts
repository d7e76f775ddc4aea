import { fitCentreLaw, type ArrivalPrior } from './centre-law.js';
import { riskTable, type LeadTimeRecord, type RiskDay } from './lead-time-record.js';

/** What may happen to an order on one day, given that it was still awaited when the day began. */
export interface DayHazards {
  readonly arrival: number;
  readonly cancellation: number;
}

/** The hazards of each day since an order's clock began. */
export type ArrivalLaw = (day: number) => DayHazards;

/**
 * How many orders the smooth law counts as against what each single day showed: enough that ten orders do not
 * make a comb of ten days, few enough that a thousand orders speak for themselves (own choice, no source).
 */
export const SMOOTHING_ORDERS = 30;

/** Days of waiting that the prior's chance of cancellation counts as (own choice, no source). */
const CANCELLATION_DAYS = 200;

/** The chance of cancellation per day, from prior and records: gamma-Poisson, closed form. */
function dailyCancellation(table: readonly RiskDay[], prior: ArrivalPrior): number {
  const cancelled = table.reduce((sum, row) => sum + row.cancelled, 0);
  const waited = table.reduce(
    (sum, { day, arrived, cancelled: ended, open }) => sum + (arrived + ended + open) * Math.max(1, day),
    0,
  );
  return (prior.dailyCancellation * CANCELLATION_DAYS + cancelled) / (CANCELLATION_DAYS + waited);
}

/**
 * Posterior hazards for each day. Each day's hazards of arrival and cancellation have a Dirichlet prior (for
 * arrival alone: Hjort's beta process in discrete time), centred on the smooth law, with a weight on day t of
 * `SMOOTHING_ORDERS` times the share still awaited, so that the centre counts as that many orders and no more.
 * The mean after d arrivals among n awaited is (c h + d) / (c + n), which becomes the product-limit hazard as n
 * grows. One new order meets each day's hazard once, so these means are its predictive law.
 * @source Hjort. Ann Stat 1990;18:1259-1294; Susarla & Van Ryzin. J Am Stat Assoc 1976;71:897-902
 */
export function learnArrivalLaw(records: readonly LeadTimeRecord[], prior: ArrivalPrior): ArrivalLaw {
  const table = riskTable(records);
  const awaited = fitCentreLaw(table, prior);
  // Days are asked for one after another: each boundary is computed once.
  let known = { boundary: -0.5, share: 1 };
  const cancelling = dailyCancellation(table, prior);
  const rows = new Map(table.map((row) => [row.day, row]));
  const lastDay = table.at(-1)?.day ?? -1;
  const atRisk = new Array<number>(lastDay + 1).fill(0);
  let row = 0;
  for (let day = 0; day <= lastDay; day += 1) {
    while ((table[row]?.day ?? Infinity) < day) row += 1;
    atRisk[day] = table[row]?.atRisk ?? 0;
  }
  return (day) => {
    // Day t stands for the time from half a day before to half a day after it.
    const before = known.boundary === day - 0.5 ? known.share : awaited(day - 0.5);
    const after = awaited(day + 0.5);
    known = { boundary: day + 0.5, share: after };
    const centre = (1 - after / before) * (1 - cancelling);
    const weight = SMOOTHING_ORDERS * before;
    const n = atRisk[day] ?? 0;
    if (n === 0) return { arrival: centre, cancellation: cancelling };
    const seen = rows.get(day);
    return {
      arrival: (weight * centre + (seen?.arrived ?? 0)) / (weight + n),
      cancellation: (weight * cancelling + (seen?.cancelled ?? 0)) / (weight + n),
    };
  };
}

/** What an order still awaited may meet on each later day; the shares and the rest add up to 1. */
export interface ConditionalArrival {
  /** arriving[i]: chance of arrival on the (i + 1)-th day from now. */
  readonly arriving: readonly number[];
  readonly cancelled: number;
  /** Chance of still being awaited after the last of these days. */
  readonly beyond: number;
}

const LONGEST_LOOK_DAYS = 1500;
const NEGLIGIBLE = 1e-4;

/** The law of what is left, given that the order is still awaited at the end of day `after`. */
export function conditionOnAwaited(law: ArrivalLaw, after: number): ConditionalArrival {
  const arriving: number[] = [];
  let awaited = 1;
  let cancelled = 0;
  for (let day = after + 1; awaited > NEGLIGIBLE && day <= after + LONGEST_LOOK_DAYS; day += 1) {
    const { arrival, cancellation } = law(day);
    arriving.push(awaited * arrival);
    cancelled += awaited * cancellation;
    awaited *= Math.max(0, 1 - arrival - cancellation);
  }
  return { arriving, cancelled, beyond: awaited };
}
