import { forecastArrival, type LeadTimeRecord } from '@lensferry/calculation';
import type { MakerScorecard } from '@lensferry/contracts';
import { curveOf } from '../leadtimes/maker-lead-times.queries.js';

/** An order that was sent, with the time that was quoted for it. */
export interface TimedOrder {
  readonly quotedDays: number;
  readonly record: LeadTimeRecord;
}

/** The last day of a forecast that is drawn: 19 of 20 lenses that come at all have come by then. */
const DRAWN_SHARE = 0.95;

/** How long a maker's orders took, open ones included, and what that says of one placed today; null without any. */
export function leadCurve(orders: readonly TimedOrder[]): MakerScorecard['leadTimes'] {
  const quotedWorkingDays = sentMost(orders);
  if (quotedWorkingDays === null) return null;
  const curve = curveOf(orders.map(({ record }) => record));
  const alike = orders.filter(({ quotedDays }) => quotedDays === quotedWorkingDays);
  const forecast = forecastArrival(
    alike.map(({ record }) => record),
    { workingDays: quotedWorkingDays },
    0,
  );
  const lastDay = Math.max(curve.lastDay, forecast.quantile(DRAWN_SHARE));
  return {
    curve,
    forecast: {
      quotedWorkingDays,
      points: Array.from({ length: lastDay + 1 }, (_, day) => ({
        day,
        arrived: forecast.chanceBy(day) / (1 - forecast.chanceCancelled),
      })),
    },
  };
}

/** The quoted time of most orders; the shorter one of two with as many. */
function sentMost(orders: readonly TimedOrder[]): number | null {
  const counts = new Map<number, number>();
  for (const { quotedDays } of orders) counts.set(quotedDays, (counts.get(quotedDays) ?? 0) + 1);
  const [most] = [...counts].sort(([a, n], [b, m]) => m - n || a - b);
  return most?.[0] ?? null;
}
