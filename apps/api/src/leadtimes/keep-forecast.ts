import { forecastArrival, type ArrivalForecast } from '@lensferry/calculation';
import { dayIn } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import { leadTimeHistory } from './lead-time-history.queries.js';

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

/** The forecast of an order that is being sent now, to be kept with it: what its arrival is measured against. */
export async function forecastAtSending(
  work: Work,
  order: { id: string; clinicId: string; makerId: string; quotedDays: number },
): Promise<KeptForecast> {
  const clinic = await work.tx.clinic.findUniqueOrThrow({ where: { id: order.clinicId } });
  const history = await leadTimeHistory(work, [order.makerId], order.quotedDays);
  const records = history.of(order, dayIn(clinic.timeZone, work.now), order.id);
  const forecast = forecastArrival(records, { workingDays: Math.max(1, order.quotedDays) }, 0);
  return keep(forecast);
}

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
