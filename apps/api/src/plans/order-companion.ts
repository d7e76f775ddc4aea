import type { PlanChoice } from '@lensferry/contracts';
import {
  DomainError,
  liveOrderStates,
  specificationDifferences,
  type OrderState,
  type Specification,
} from '@lensferry/domain';
import { lensInEye, type CaseRow } from '../cases/cases.store.js';
import { loadOrder, takeStep, type OrderRow } from '../orders/orders.store.js';
import { voidSignature } from '../orders/sign-order.js';
import { canonicalHash } from '../platform/audit.js';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { openOrder } from './open-order.js';

/** A companion that its maker does not have yet can be changed or given up with the plan. */
const atHome: readonly OrderState[] = ['draft', 'changes_requested', 'submitted', 'approved'];

/**
 * Opens, amends or gives up the order of a smaller lens beside an order, as the plan says. It is an order like any
 * other, with a signature of its own; the case waits for the first one.
 * @throws DomainError `plan.companion-exchange`, `plan.companion-out`.
 */
export async function orderCompanion(
  work: Work,
  row: CaseRow,
  orderId: string,
  { companionLengthMm }: Pick<PlanChoice, 'companionLengthMm'>,
): Promise<void> {
  const standing = await work.tx.lensOrder.findFirst({
    where: { companionOf: orderId, state: { in: [...liveOrderStates] } },
  });
  if (companionLengthMm === undefined) {
    if (standing !== null && atHome.includes(standing.state)) await giveUp(work, standing);
    return;
  }
  if (lensInEye(row) !== undefined)
    throw new DomainError(
      'refused',
      'plan.companion-exchange',
      'In an exchange the eye’s own vault was measured: order the one size that it asks for.',
    );
  const first = await loadOrder(work, orderId);
  const specification = {
    ...(first.specification as unknown as Specification),
    lengthMm: companionLengthMm,
  };
  if (standing === null) await open(work, row, first, specification);
  else await amend(work, first, standing, specification);
}

const dataOf = (first: OrderRow, specification: Specification) => ({
  planId: first.planId,
  makerId: first.makerId,
  designVersionId: first.designVersionId,
  specification: specification as unknown as Prisma.InputJsonObject,
  specificationHash: canonicalHash(specification),
  replacesLensId: null,
  quotedDays: first.quotedDays,
  price: first.price,
  currency: first.currency,
  needBy: first.needBy,
});

async function open(work: Work, row: CaseRow, first: OrderRow, specification: Specification): Promise<void> {
  const data = { ...dataOf(first, specification), companionOf: first.id };
  await openOrder(work, row, data, { quotedWorkingDays: first.quotedDays });
}

async function amend(
  work: Work,
  first: OrderRow,
  standing: OrderRow,
  specification: Specification,
): Promise<void> {
  const data = dataOf(first, specification);
  if (data.specificationHash === standing.specificationHash) return;
  if (!atHome.includes(standing.state))
    throw new DomainError(
      'refused',
      'plan.companion-out',
      `Order ${standing.number} of the smaller lens is with its maker; ask for its cancellation before you plan another one.`,
      { order: standing.number },
    );
  const before = standing.specification as unknown as Specification;
  const voided = await voidSignature(work, standing, 'The specification was changed after it was signed.');
  await takeStep(work, standing, 'amend', {
    data: { ...data, note: null },
    facts: { differences: specificationDifferences(before, specification), signatureVoided: voided },
  });
}

async function giveUp(work: Work, standing: OrderRow): Promise<void> {
  const why = 'The plan asks for no smaller lens beside it any more.';
  await takeStep(work, standing, 'cancel', { data: { note: why, endedAt: work.now }, why });
  await voidSignature(work, standing, 'The order was cancelled.');
}
