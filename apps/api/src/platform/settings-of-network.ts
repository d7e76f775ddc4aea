import { DEFAULT_VISIT_DAYS } from '@lensferry/calculation';
import { z } from 'zod';
import type { Work } from './work.js';

/**
 * Thresholds of the network: configuration, not law. Defaults are common practice where the trade has no source.
 */
export const NetworkSettings = z.object({
  stableMonthsAtLeast: z.number().default(6),
  stableMonthsPreferred: z.number().default(12),
  acuityCautionBelowDecimal: z.number().default(0.5),
  acuityStopBelowDecimal: z.number().default(1 / 3),
  kmaxCautionD: z.number().default(60),
  depthStopBelowMm: z.number().default(2.8),
  depthCautionBelowMm: z.number().default(3.0),
  ageAtLeast: z.number().default(21),
  measurementsOldAfterDays: z.number().default(92),
  vaultLowBelowUm: z.number().default(250),
  vaultHighAboveUm: z.number().default(750),
  vaultAlertBelowUm: z.number().default(100),
  /** Days after surgery of the visits of follow-up, rising; after the last one yearly. */
  visitDays: z
    .array(z.int())
    .min(1)
    .default([...DEFAULT_VISIT_DAYS]),
  /** How long after its theatre date a lens must still be good to be accepted without a reason; common practice, no source. */
  expiryDaysAfterTheatre: z.int().default(30),
  /** What ordering a smaller lens beside the chosen one is judged by; own choice, in each maker's currency. */
  companion: z
    .object({
      fromChance: z.number().min(0).max(1).default(0.15),
      restockingShare: z.number().min(0).max(1).default(0.2),
      explantedCreditShare: z.number().min(0).max(1).default(0),
      secondOperation: z.number().min(0).max(1e6).default(1500),
      waitingPerDay: z.number().min(0).max(1e4).default(15),
      seenInTheatreShare: z.number().min(0).max(1).default(0.25),
    })
    .prefault({}),
});
export type NetworkSettings = z.infer<typeof NetworkSettings>;

/** The network's settings as they stand. */
export async function networkSettings(work: Work): Promise<NetworkSettings> {
  const row = await work.tx.networkSetting.findUnique({ where: { key: 'thresholds' } });
  return NetworkSettings.parse(row?.value ?? {});
}
