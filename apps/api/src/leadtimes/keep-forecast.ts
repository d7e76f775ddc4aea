import { forecastArrival, type ArrivalForecast } from '@lensferry/calculation';
import { grouped } from '../platform/grouped.js';
import { dayIn } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import { leadTimeHistory, waitingClass } from './lead-time-history.queries.js';

/** A forecast as it is kept with its order: the chance of arrival on each working day from the day after sending. */
type KeptForecast = {
  readonly version: 1;
  readonly ordersBehind: number;
  readonly p10: number;
  readonly p50: number;
  readonly p90: number;
  readonly daily: number[];
  readonly chanceLater: number;
  readonly chanceCancelled: number;
};

/** Days beyond which less than this is left of a chance are kept as one number. */
const negligible = 5e-4;

interface Sending {
  readonly id: string;
  readonly clinicId: string;
  readonly makerId: string;
  readonly quotedDays: number;
}

/** The forecast of an order that is being sent now, to be kept with it: what its arrival is measured against. */
export async function forecastAtSending(work: Work, order: Sending): Promise<KeptForecast> {
  return (await forecastsAtSending(work, [order]))(order);
}

/** The same of several orders that one clinic sends at the same moment; none of them is behind another. */
export async function forecastsAtSending(
  work: Work,
  orders: readonly Sending[],
): Promise<(order: Sending) => KeptForecast> {
  const clinicIds = [...new Set(orders.map(({ clinicId }) => clinicId))];
  const clinics = await work.tx.clinic.findMany({ where: { id: { in: clinicIds } } });
  const today = new Map(clinics.map(({ id, timeZone }) => [id, dayIn(timeZone, work.now)]));
  const kept = new Map<string, KeptForecast>();
  for (const [quotedDays, alike] of grouped(orders, (order) => order.quotedDays)) {
    const makerIds = alike.map(({ makerId }) => makerId);
    const history = await leadTimeHistory(work, makerIds, quotedDays);
    for (const order of alike) {
      const key = keyOf(order);
      if (kept.has(key)) continue;
      const records = history.of(order, today.get(order.clinicId) ?? '', order.id);
      kept.set(key, keep(forecastArrival(records, { workingDays: Math.max(1, quotedDays) }, 0)));
    }
  }
  return (order) => kept.get(keyOf(order)) as KeptForecast;
}

const keyOf = (order: Sending): string => `${order.clinicId}:${waitingClass(order)}`;

function keep(forecast: ArrivalForecast): KeptForecast {
  const { ordersBehind, p10, p50, p90, chanceCancelled } = forecast;
  const daily: number[] = [];
  let left = 1 - chanceCancelled;
  for (const chance of forecast.daily) {
    if (left < negligible) break;
    daily.push(Math.round(chance * 1e6) / 1e6);
    left -= chance;
  }
  return {
    version: 1,
    ordersBehind,
    p10,
    p50,
    p90,
    daily,
    chanceLater: Math.max(0, Math.round(left * 1e6) / 1e6),
    chanceCancelled: Math.round(chanceCancelled * 1e6) / 1e6,
  };
}

/** A kept forecast as calibration wants it; null for an order that was sent before forecasts were kept. */
export function readKeptForecast(kept: unknown): ArrivalForecast | null {
  if (kept === null || kept === undefined) return null;
  const { daily, chanceLater, ordersBehind, p10, p50, p90 } = kept as KeptForecast;
  const byDay: number[] = [];
  let sum = 0;
  for (const chance of daily) byDay.push((sum += chance));
  const coming = sum + chanceLater;
  return {
    basis: 'quote-and-history',
    ordersBehind,
    p10,
    p50,
    p90,
    quantile: (p) => {
      const index = byDay.findIndex((chance) => chance >= p * coming * (1 - 1e-12));
      return (index < 0 ? byDay.length : index) + 1;
    },
    chanceBy: (days) => (days < 1 ? 0 : (byDay[Math.min(Math.floor(days), byDay.length) - 1] ?? 0)),
    // Rounding may leave the parts a hair apart from one; what isn't coming is what is left of them.
    chanceCancelled: Math.max(0, 1 - coming),
    daily,
    chanceLater,
  };
}
