import { riskTable, type LeadTimeRecord } from './lead-time-record.js';

/** What is believed of a lead time before any order: a centre in working days, its spread and its weight. */
export interface ArrivalPrior {
  /** Half of all lenses are expected to have come by then; above 0. */
  readonly medianDays: number;
  /** Steepness of the log-logistic prior: its log-spread is about 1.8 / steepness. */
  readonly steepness: number;
  /** How many orders the prior weighs. */
  readonly orders: number;
  /** Chance per day that an order is cancelled while it is awaited. */
  readonly dailyCancellation: number;
}

/**
 * Chances of what happens to one order on each day since its clock began, in which hazards learned from
 * orders and prior meet in closed form.
 */
export interface ArrivalLaw {
  /** arrivalHazard[t]: chance of arrival on day t, given that the order was still awaited when the day began. */
  readonly arrivalHazard: readonly number[];
  readonly cancellationHazard: readonly number[];
}

function priorAwaited({ medianDays, steepness }: ArrivalPrior, day: number): number {
  return day < 0 ? 1 : 1 / (1 + ((day + 0.5) / medianDays) ** steepness);
}

/**
 * Posterior hazards for each day from 0 to `horizon`. Each day's hazards of arrival and of cancellation have a
 * Dirichlet prior (for arrival alone: Hjort's beta process in discrete time) whose weight on day t is
 * `orders` times the prior share still awaited, so that the prior counts as that many orders and no more. The
 * mean after d arrivals among n awaited is (c h + d) / (c + n), which becomes the product-limit hazard as n
 * grows. One new order meets each day's hazard once, so these means are its exact predictive law.
 * @source Hjort. Ann Stat 1990;18:1259-1294; Susarla & Van Ryzin. J Am Stat Assoc 1976;71:897-902
 */
export function learnArrivalLaw(
  records: readonly LeadTimeRecord[],
  prior: ArrivalPrior,
  horizon: number,
): ArrivalLaw {
  const arrived = new Float64Array(horizon + 1);
  const cancelled = new Float64Array(horizon + 1);
  const atRisk = new Float64Array(horizon + 1);
  const table = riskTable(records);
  let row = 0;
  for (let day = 0; day <= horizon; day += 1) {
    while (row < table.length && (table[row]?.day ?? 0) < day) row += 1;
    const here = table[row];
    // Between two days with events, all that are at risk on the later one are at risk.
    atRisk[day] = here?.atRisk ?? 0;
    if (here?.day === day) {
      arrived[day] = here.arrived;
      cancelled[day] = here.cancelled;
    }
  }
  const arrivalHazard: number[] = [];
  const cancellationHazard: number[] = [];
  for (let day = 0; day <= horizon; day += 1) {
    const before = priorAwaited(prior, day - 1);
    const hazard = (1 - priorAwaited(prior, day) / before) * (1 - prior.dailyCancellation);
    const weight = prior.orders * before;
    const total = weight + (atRisk[day] ?? 0);
    arrivalHazard.push((weight * hazard + (arrived[day] ?? 0)) / total);
    cancellationHazard.push((weight * prior.dailyCancellation + (cancelled[day] ?? 0)) / total);
  }
  return { arrivalHazard, cancellationHazard };
}

/** What an order still awaited after day `after` may meet on each later day; the shares and the rest add up to 1. */
export interface ConditionalArrival {
  /** arriving[i]: chance of arrival on the (i + 1)-th day from now. */
  readonly arriving: readonly number[];
  readonly cancelled: number;
  /** Chance of still being awaited at the horizon. */
  readonly beyond: number;
}

/** The law of what is left, given that the order is still awaited at the end of day `after`. */
export function conditionOnAwaited(law: ArrivalLaw, after: number): ConditionalArrival {
  const arriving: number[] = [];
  let awaited = 1;
  let cancelled = 0;
  for (let day = after + 1; day < law.arrivalHazard.length; day += 1) {
    const arrival = law.arrivalHazard[day] ?? 0;
    const cancellation = law.cancellationHazard[day] ?? 0;
    arriving.push(awaited * arrival);
    cancelled += awaited * cancellation;
    awaited *= Math.max(0, 1 - arrival - cancellation);
  }
  return { arriving, cancelled, beyond: awaited };
}
