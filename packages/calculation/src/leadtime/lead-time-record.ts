import { CalculationError, requireNumber, type NumberRange } from '../calculation-error.js';

/** Working days that a lead time may have: zero to about four years. */
export const LEAD_TIME_DAYS: NumberRange = { min: 0, max: 1000, unit: 'working days' };

/** How an order stands: the lens came, is still awaited (right-censored), or will never come. */
export type LeadTimeOutcome = 'arrived' | 'open' | 'cancelled';

/** One order's history, counted in whole working days of its maker since the order was sent. */
export interface LeadTimeRecord {
  /** Until arrival or cancellation, or, for an open order, until now. */
  readonly workingDays: number;
  readonly outcome: LeadTimeOutcome;
  /** When the maker promised it for, counted from sending; the last promise before arrival. */
  readonly promisedWorkingDays?: number | undefined;
  /** When it was shipped, counted from sending. */
  readonly shippedAfterWorkingDays?: number | undefined;
  /** False for a cancelled order that the maker declined outright; left out counts as true. */
  readonly acknowledged?: boolean | undefined;
  /** How many orders went just so, a whole number from 1 on; 1 when left out. Histories are long, their days few. */
  readonly orders?: number | undefined;
}

/** How many orders some records stand for. */
export function countOrders(records: readonly Pick<LeadTimeRecord, 'orders'>[]): number {
  return records.reduce((sum, { orders = 1 }) => sum + orders, 0);
}

/** How many orders had an event on a day, and how many were still awaited when it began. */
export interface RiskDay {
  readonly day: number;
  readonly atRisk: number;
  readonly arrived: number;
  readonly cancelled: number;
  readonly open: number;
}

/** Throws CalculationError naming the record unless all days are whole numbers from 0 to 1000, and counts of orders from 1. */
export function requireRecords(field: string, records: readonly LeadTimeRecord[]): void {
  records.forEach((record, i) => {
    requireWholeDays(`${field}[${i}].workingDays`, record.workingDays);
    if (record.orders !== undefined)
      requireWholeDays(`${field}[${i}].orders`, record.orders, { min: 1, max: 1e9, unit: 'orders' });
  });
}

/** Throws CalculationError unless the value is a whole number of working days from 0 to 1000. */
export function requireWholeDays(field: string, value: number, range: NumberRange = LEAD_TIME_DAYS): number {
  requireNumber(field, value, range);
  if (Number.isInteger(value)) return value;
  throw new CalculationError('input.out-of-range', field, value, 'a whole number of working days');
}

/** The days on which something happened, in order, with the orders at risk on each. */
export function riskTable(records: readonly LeadTimeRecord[]): RiskDay[] {
  const days = new Map<number, { arrived: number; cancelled: number; open: number }>();
  for (const { workingDays, outcome, orders = 1 } of records) {
    const day = days.get(workingDays) ?? { arrived: 0, cancelled: 0, open: 0 };
    day[outcome] += orders;
    days.set(workingDays, day);
  }
  let atRisk = countOrders(records);
  return [...days]
    .sort(([a], [b]) => a - b)
    .map(([day, counts]) => {
      const row = { day, atRisk, ...counts };
      atRisk -= counts.arrived + counts.cancelled + counts.open;
      return row;
    });
}
