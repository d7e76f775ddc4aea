import { DEFAULT_VISIT_DAYS } from '@lensferry/calculation';
import { limits, limitKeys, type LimitKey } from '@lensferry/domain';
import { z } from 'zod';
import type { Work } from './work.js';

const limitShape = Object.fromEntries(
  limitKeys.map((key) => [key, z.number().default(limits[key].usual)]),
) as Record<LimitKey, z.ZodDefault<z.ZodNumber>>;

/** What the people of the network have set: its limits, and when eyes are seen again. */
const NetworkSettings = z.object({
  ...limitShape,
  /** Days after surgery of the visits of follow-up, rising; after the last one yearly. */
  visitDays: z
    .array(z.int())
    .min(1)
    .default([...DEFAULT_VISIT_DAYS]),
});
export type NetworkSettings = z.infer<typeof NetworkSettings>;

/** The network's settings as they stand. */
export async function networkSettings(work: Work): Promise<NetworkSettings> {
  const row = await work.tx.networkSetting.findUnique({ where: { key: 'thresholds' } });
  return NetworkSettings.parse(row?.value ?? {});
}

/** Keeps the settings from others until the work ends, and gives them as they stand. */
export async function holdSettings(work: Work): Promise<NetworkSettings> {
  await work.tx.networkSetting.upsert({
    where: { key: 'thresholds' },
    create: { key: 'thresholds', value: {} },
    update: {},
  });
  await work.tx.$executeRaw`select 1 from network_setting where key = 'thresholds' for update`;
  return networkSettings(work);
}

/** Sets some of the settings; hold them first. */
export async function writeSettings({ tx }: Work, some: Partial<NetworkSettings>): Promise<void> {
  const row = await tx.networkSetting.findUniqueOrThrow({ where: { key: 'thresholds' } });
  await tx.networkSetting.update({
    where: { key: 'thresholds' },
    data: { value: { ...(row.value as object), ...some } },
  });
}
