import { DomainError } from '@lensferry/domain';
import { dayIn, fromDateOrNull, toDate } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import { tellNeedBy } from '../orders/change-order.js';
import { loadCaseAt, standingOrders, updateCase } from './cases.store.js';

/** Sets or clears the theatre date; the order of the present round is needed by that day, and its maker is told. */
export async function scheduleTheatre(
  work: Work,
  caseId: string,
  input: { version: number; theatreOn: string | null },
): Promise<void> {
  work.need('case.schedule');
  const row = await loadCaseAt(work, caseId, input.version);
  const clinic = await work.tx.clinic.findUniqueOrThrow({ where: { id: row.clinicId } });
  if (row.withdrawnAt !== null || row.closedAt !== null)
    throw new DomainError('conflict', 'case.ended', 'This case has ended, so it needs no theatre date.');
  if (input.theatreOn !== null && input.theatreOn < dayIn(clinic.timeZone, work.now))
    throw new DomainError('invalid', 'case.theatre-past', 'The theatre date lies in the past.', {}, [
      { pointer: '/theatreOn', message: 'Choose today or a later day.' },
    ]);
  await updateCase(work, row, { theatreOn: input.theatreOn === null ? null : toDate(input.theatreOn) });
  const orders = standingOrders(row);
  for (const order of orders)
    await work.tx.lensOrder.update({
      where: { clinicId_id: { clinicId: row.clinicId, id: order.id } },
      data: { needBy: input.theatreOn === null ? null : toDate(input.theatreOn) },
    });
  work.record({
    clinicId: row.clinicId,
    action: 'case.schedule',
    caseId,
    facts: { before: fromDateOrNull(row.theatreOn), after: input.theatreOn },
  });
  for (const order of orders) await tellNeedBy(work, order.id);
}
