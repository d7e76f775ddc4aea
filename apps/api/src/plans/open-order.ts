import { v7 as uuid } from 'uuid';
import type { CaseRow } from '../cases/cases.store.js';
import { documentNumber } from '../platform/counters.js';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';

/** Opens an order as a draft, numbered by its clinic. @returns its identifier. */
export async function openOrder(
  work: Work,
  row: CaseRow,
  data: Pick<
    Prisma.LensOrderUncheckedCreateInput,
    | 'planId'
    | 'makerId'
    | 'designVersionId'
    | 'specification'
    | 'specificationHash'
    | 'replacesLensId'
    | 'quotedDays'
    | 'price'
    | 'currency'
    | 'needBy'
    | 'companionOf'
  >,
  terms: { quotedWorkingDays: number },
): Promise<string> {
  const id = uuid();
  const clinic = await work.tx.clinic.findUniqueOrThrow({ where: { id: row.clinicId } });
  const number = await documentNumber(work, 'L', clinic);
  await work.tx.lensOrder.create({
    data: {
      ...data,
      clinicId: row.clinicId,
      id,
      number,
      caseId: row.id,
      round: row.round,
      state: 'draft',
      stateSince: work.now,
      openedAt: work.now,
    },
  });
  work.record({
    clinicId: row.clinicId,
    action: 'order.open',
    caseId: row.id,
    orderId: id,
    facts: { number, quotedWorkingDays: terms.quotedWorkingDays },
  });
  return id;
}
