import type { VisitSchedule } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import { holdSettings, writeSettings } from '../platform/settings-of-network.js';
import type { Work } from '../platform/work.js';

/**
 * Sets the network's visits of follow-up, on the record of each of its clinics that the administrator sees.
 * @throws DomainError `visits.changed-meanwhile` when the days are no longer those that the change started from.
 */
export async function setVisitDays(work: Work, { was, visitDays, why }: VisitSchedule): Promise<void> {
  work.need('visits.schedule');
  const before = (await holdSettings(work)).visitDays;
  if (before.join() !== was.join())
    throw new DomainError(
      'conflict',
      'visits.changed-meanwhile',
      'Somebody changed the visits meanwhile; look at them again.',
      { visitDays: before.join(', ') },
    );
  await writeSettings(work, { visitDays });
  for (const clinicId of work.actor.clinicIds)
    work.record({ clinicId, action: 'visits.schedule', facts: { before, after: visitDays }, why });
}
