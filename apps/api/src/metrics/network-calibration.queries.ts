import type { CountedShare } from '@lensferry/contracts';
import { calibrationOf } from '../leadtimes/maker-lead-times.queries.js';
import type { Database } from '../platform/database.js';
import { everyClinic } from './network-numbers.queries.js';

/** So many of the latest arrivals say how far forecasts can be believed now. */
const latestArrivals = 500;

/** Of the network's latest arrivals, those inside the 90 % interval that was forecast when they were sent. */
export async function networkCalibration(database: Database): Promise<CountedShare | null> {
  return database.work(await everyClinic(database), async ({ tx }) => {
    const arrivals = await tx.lensOrder.findMany({
      where: { arrivedAt: { not: null }, leadDays: { not: null } },
      orderBy: { arrivedAt: 'desc' },
      take: latestArrivals,
      select: { sentAt: true, arrivedAt: true, forecastAtSending: true, leadDays: true },
    });
    return calibrationOf(arrivals, ({ leadDays }) => leadDays ?? 0);
  });
}
