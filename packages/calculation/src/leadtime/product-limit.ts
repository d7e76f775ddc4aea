import { CalculationError, requireNumber } from '../calculation-error.js';
import { normalQuantile } from '../uncertainty/normal.js';
import {
  countOrders,
  requireRecords,
  requireWholeDays,
  riskTable,
  type LeadTimeRecord,
} from './lead-time-record.js';

/** The share of orders still awaited from a day on, with its uncertainty. */
export interface ProductLimitStep {
  readonly day: number;
  readonly atRisk: number;
  readonly arrived: number;
  /** Share still awaited after this day, 0 to 1. */
  readonly awaited: number;
  /** Greenwood's standard error of that share. */
  readonly standardError: number;
  /** Log-log limits of that share at the level asked for; equal to the share where it is 0 or 1. */
  readonly low: number;
  readonly high: number;
}

/** A product-limit curve: one step for each day with an arrival. */
export interface ProductLimitCurve {
  readonly orders: number;
  readonly arrivals: number;
  /** The last day on which any order was observed. */
  readonly lastDay: number;
  readonly steps: readonly ProductLimitStep[];
}

/**
 * The product-limit estimate of lead times from arrivals and open orders, in working days. Cancelled orders
 * leave the orders at risk on their day, as open ones do; `arrivalShare` counts them as competing instead.
 * Throws CalculationError when there is no record or a day is not whole.
 * @source Kaplan & Meier. J Am Stat Assoc 1958;53:457-481; Greenwood 1926; log-log limits: Kalbfleisch & Prentice 1980
 */
export function productLimit(records: readonly LeadTimeRecord[], level = 0.95): ProductLimitCurve {
  requireRecords('records', records);
  requireNumber('level', level, { min: 0.5, max: 0.9999, unit: '' });
  if (records.length === 0)
    throw new CalculationError('input.missing', 'records', undefined, 'at least one order');
  const z = normalQuantile((1 + level) / 2);
  const table = riskTable(records);
  let awaited = 1;
  let greenwood = 0;
  const steps: ProductLimitStep[] = [];
  for (const { day, atRisk, arrived } of table) {
    if (arrived === 0) continue;
    awaited *= 1 - arrived / atRisk;
    greenwood += arrived / (atRisk * (atRisk - arrived));
    steps.push({ day, atRisk, arrived, awaited, ...uncertainty(awaited, greenwood, z) });
  }
  return {
    orders: countOrders(records),
    arrivals: steps.reduce((sum, step) => sum + step.arrived, 0),
    lastDay: table.at(-1)?.day ?? 0,
    steps,
  };
}

function uncertainty(awaited: number, greenwood: number, z: number) {
  if (awaited <= 0) return { standardError: 0, low: 0, high: 0 };
  const root = Math.sqrt(greenwood);
  const reach = Math.exp((z * root) / Math.log(awaited));
  return { standardError: awaited * root, low: awaited ** (1 / reach), high: awaited ** reach };
}

/** The share still awaited after `day` (working days, 0 or more). */
export function awaitedAfter(curve: ProductLimitCurve, day: number): number {
  requireNumber('day', day, { min: 0, max: 1e6, unit: 'working days' });
  let awaited = 1;
  for (const step of curve.steps) {
    if (step.day > day) break;
    awaited = step.awaited;
  }
  return awaited;
}

/**
 * The first day by which the share `p` of orders has come, or null when the records do not reach that far.
 * @example arrivalQuantile(productLimit(records), 0.5) // the median lead time
 */
export function arrivalQuantile(curve: ProductLimitCurve, p: number): number | null {
  requireNumber('p', p, { min: 0, max: 1, unit: '' });
  // The product of fractions may miss an exact share by the last digit.
  return curve.steps.find((step) => step.awaited <= 1 - p + 1e-12)?.day ?? null;
}

/**
 * Mean working days awaited within the first `toDay` days: the area under the curve.
 * Throws CalculationError when `toDay` lies beyond the last day observed.
 * @source Irwin. J Hyg 1949;47:188-189
 */
export function restrictedMeanDays(curve: ProductLimitCurve, toDay: number = curve.lastDay): number {
  requireWholeDays('toDay', toDay, { min: 0, max: curve.lastDay, unit: 'working days' });
  let area = 0;
  let from = 0;
  let awaited = 1;
  for (const step of curve.steps) {
    if (step.day >= toDay) break;
    area += (step.day - from) * awaited;
    from = step.day;
    awaited = step.awaited;
  }
  return area + (toDay - from) * awaited;
}

/**
 * The share of orders that have come by each day when cancellation competes with arrival (Aalen-Johansen).
 * Arrived and cancelled shares and what is still awaited add up to one.
 * @source Aalen & Johansen. Scand J Stat 1978;5:141-150
 */
export function arrivalShare(
  records: readonly LeadTimeRecord[],
): { day: number; arrived: number; cancelled: number; awaited: number }[] {
  requireRecords('records', records);
  let awaited = 1;
  let arrived = 0;
  let cancelled = 0;
  return riskTable(records)
    .filter((row) => row.arrived + row.cancelled > 0)
    .map((row) => {
      arrived += (awaited * row.arrived) / row.atRisk;
      cancelled += (awaited * row.cancelled) / row.atRisk;
      awaited *= 1 - (row.arrived + row.cancelled) / row.atRisk;
      return { day: row.day, arrived, cancelled, awaited };
    });
}
