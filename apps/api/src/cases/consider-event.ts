import type { ConsiderEvent } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import { v7 as uuid } from 'uuid';
import type { Work } from '../platform/work.js';
import { loadCase, updateCase } from './cases.store.js';

/**
 * Writes down what was decided about reporting that a lens was taken out of an eye. Local rules say what must be
 * reported to whom; nothing is sent from here, and a decision is never changed.
 * @throws DomainError `event.not-explanted`, `event.considered`.
 */
export async function considerEvent(work: Work, caseId: string, input: ConsiderEvent): Promise<void> {
  work.need('case.exchange');
  const row = await loadCase(work, caseId);
  const operation = row.implantations.find(({ id }) => id === input.implantationId);
  if (operation === undefined || operation.explantedOn === null)
    throw new DomainError(
      'refused',
      'event.not-explanted',
      'There is nothing to consider: no lens of this operation was taken out of this eye.',
    );
  if (operation.consideration !== null)
    throw new DomainError(
      'conflict',
      'event.considered',
      'Somebody wrote down a decision on this lens already; reload to read it.',
    );
  const { decision, reference = null, why } = input;
  const { count } = await work.tx.eventConsideration.createMany({
    data: [
      {
        clinicId: row.clinicId,
        id: uuid(),
        implantationId: operation.id,
        decision,
        reference,
        why,
        decidedAt: work.now,
        decidedBy: work.personId,
      },
    ],
    skipDuplicates: true,
  });
  if (count === 0)
    throw new DomainError(
      'conflict',
      'event.considered',
      'Somebody wrote down a decision on this lens already; reload to read it.',
    );
  await updateCase(work, row, {});
  work.record({
    clinicId: row.clinicId,
    action: 'case.consider',
    caseId,
    lensId: operation.lensId,
    facts: { serial: operation.lens.serial, decision, reference },
    why,
  });
}
