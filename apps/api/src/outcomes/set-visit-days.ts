import type { VisitSchedule } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import { networkSettings } from '../platform/settings-of-network.js';
import type { Work } from '../platform/work.js';

/**
 * Sets the network's visits of follow-up, on the record of each of its clinics that the administrator sees.
 * @throws DomainError `visits.changed-meanwhile` when the days are no longer those that the change started from.
 */
export async function setVisitDays(work: Work, { was, visitDays, why }: VisitSchedule): Promise<void> {
  work.need('visits.schedule');
  await work.tx.networkSetting.upsert({
    where: { key: 'thresholds' },
    create: { key: 'thresholds', value: {} },
    update: {},
  });
  await work.tx.$executeRaw`select 1 from network_setting where key = 'thresholds' for update`;
  const before = (await networkSettings(work)).visitDays;
  if (before.join() !== was.join())
    throw new DomainError(
      'conflict',
      'visits.changed-meanwhile',
      'Somebody changed the visits meanwhile; look at them again.',
      { visitDays: before.join(', ') },
    );
  const row = await work.tx.networkSetting.findUniqueOrThrow({ where: { key: 'thresholds' } });
  await work.tx.networkSetting.update({
    where: { key: 'thresholds' },
    data: { value: { ...(row.value as object), visitDays } },
  });
  for (const clinicId of work.actor.clinicIds)
    work.record({ clinicId, action: 'visits.schedule', facts: { before, after: visitDays }, why });
}
