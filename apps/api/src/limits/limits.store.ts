import type { LimitChange, NetworkLimits } from '@lensferry/contracts';
import { limitKeys, type LimitKey } from '@lensferry/domain';
import { networkSettings } from '../platform/settings-of-network.js';
import type { Work } from '../platform/work.js';

const changesKey = 'limit-changes';
type Changes = Partial<Record<LimitKey, LimitChange>>;

/** The network's limits as they stand, each with how it was last set; every change is in the record of the clinics. */
export async function showLimits(work: Work): Promise<NetworkLimits> {
  const settings = await networkSettings(work);
  const changes = await lastChanges(work);
  return {
    items: limitKeys.map((key) => ({ key, value: settings[key], changed: changes[key] ?? null })),
  };
}

/** Notes how a limit was set, so that whoever is judged by it sees who answers for it. */
export async function noteChange(work: Work, key: LimitKey, change: LimitChange): Promise<void> {
  const value = { ...(await lastChanges(work)), [key]: change };
  await work.tx.networkSetting.upsert({
    where: { key: changesKey },
    create: { key: changesKey, value },
    update: { value },
  });
}

async function lastChanges({ tx }: Work): Promise<Changes> {
  const row = await tx.networkSetting.findUnique({ where: { key: changesKey } });
  return (row?.value ?? {}) as Changes;
}
