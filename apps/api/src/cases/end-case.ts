import { DomainError } from '@lensferry/domain';
import type { Work } from '../platform/work.js';
import { lensInEye, loadCaseAt, openExchangeOf, standingOrders, updateCase } from './cases.store.js';
import { refreshStage } from './refresh-stage.js';

interface Ending {
  readonly version: number;
  readonly why: string;
}

/** Ends a case before anything was implanted. An order that is still out has to be settled first. */
export async function withdrawCase(work: Work, caseId: string, { version, why }: Ending): Promise<void> {
  work.need('case.withdraw');
  const row = await loadCaseAt(work, caseId, version);
  if (row.withdrawnAt !== null || row.closedAt !== null)
    throw new DomainError('conflict', 'case.ended', 'This case has already ended.');
  if (row.implantations.length > 0)
    throw new DomainError(
      'refused',
      'case.implanted',
      'A lens was implanted, so this case is closed after follow-up, not withdrawn.',
    );
  const [order] = standingOrders(row);
  if (order !== undefined)
    throw new DomainError(
      'refused',
      'case.order-open',
      `Settle order ${order.number} first: cancel it, or take its lens off this case.`,
      {
        order: order.number,
        state: order.state,
      },
    );
  await updateCase(work, row, { withdrawnAt: work.now, withdrawnWhy: why, theatreOn: null });
  work.record({ clinicId: row.clinicId, action: 'case.withdraw', caseId, why });
  await refreshStage(work, caseId);
}

/** Closes a case after follow-up. */
export async function closeCase(work: Work, caseId: string, { version, why }: Ending): Promise<void> {
  work.need('case.close');
  const row = await loadCaseAt(work, caseId, version);
  if (lensInEye(row) === undefined || openExchangeOf(row) !== undefined || row.stage !== 'follow_up')
    throw new DomainError(
      'refused',
      'case.not-followed-up',
      'A case is closed with its lens in the eye, after at least one visit, and with no exchange open.',
      {
        stage: row.stage,
      },
    );
  await updateCase(work, row, { closedAt: work.now });
  work.record({ clinicId: row.clinicId, action: 'case.close', caseId, why });
  await refreshStage(work, caseId);
}
