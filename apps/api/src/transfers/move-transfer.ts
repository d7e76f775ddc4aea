import type { AcceptTransfer, SendTransfer } from '@lensferry/contracts';
import { DomainError, type TransferEvent } from '@lensferry/domain';
import { loadOrder, type OrderRow } from '../orders/orders.store.js';
import { dayIn, fromDate } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import { shortExpiry } from '../receiving/read-arrival.js';
import { loadLens, moveLens } from '../stock/move-lens.js';
import { differencesOf } from '../stock/unit-differences.js';
import { loadTransferAt, moveTransfer, type TransferRow } from './transfers.store.js';

/**
 * Takes an offered unit up for an order of the taker's that a surgeon has signed and nobody has placed. Of two clinics
 * that reach for one offer the first has it.
 * @throws DomainError `transfer.order-not-open`, `transfer.not-for-order`, `transfer.order-waits`, `lens.expires-early`.
 */
export async function acceptTransfer(work: Work, id: string, input: AcceptTransfer): Promise<void> {
  const row = await loadTransferAt(work, id, input.version);
  const order = await loadOrder(work, input.orderId);
  await requireFor(work, row, order);
  await requireLongEnough(work, row, order, input.why);
  await moveTransfer(work, row, 'accept', {
    data: { toClinicId: order.clinicId, orderId: order.id },
    facts: { number: order.number },
    why: input.why ?? null,
    toClinicId: order.clinicId,
  });
}

/** The order must be the taker's, signed and not placed, ask for exactly this unit, and wait for no other. */
export async function requireFor(work: Work, row: TransferRow, order: OrderRow): Promise<void> {
  const elsewhere = row.toClinicId !== null && row.toClinicId !== order.clinicId;
  if (order.clinicId === row.fromClinicId || elsewhere)
    throw new DomainError(
      'refused',
      'transfer.other-clinic',
      'Choose an order of the clinic that the lens is offered to.',
    );
  if (order.state !== 'approved')
    throw new DomainError(
      'refused',
      'transfer.order-not-open',
      `A lens of another clinic is taken for an order that a surgeon has signed and nobody has placed; order ${order.number} is ${order.state.replaceAll('_', ' ')}.`,
      { number: order.number, state: order.state },
    );
  const wrong = differencesOf({ lens: row.lens, designCode: row.designCode, makerId: row.makerId }, order);
  if (wrong.length > 0)
    throw new DomainError(
      'refused',
      'transfer.not-for-order',
      `Lens ${row.serial} is not what order ${order.number} asks for: ${wrong.join(', ')} differ${wrong.length === 1 ? 's' : ''}.`,
      { serial: row.serial, number: order.number, wrong },
    );
  const other = await transferFor(work, order);
  if (other !== null && other.id !== row.id)
    throw new DomainError(
      'refused',
      'transfer.order-waits',
      `Lens ${other.serial} of another clinic is on its way for order ${order.number} already.`,
      { serial: other.serial, number: order.number },
    );
}

/** The unit of another clinic that is taken up or under way for an order. */
export function transferFor({ tx }: Work, order: Pick<OrderRow, 'clinicId' | 'id'>) {
  return tx.lensTransfer.findFirst({
    where: { toClinicId: order.clinicId, orderId: order.id, state: { in: ['accepted', 'sent'] } },
  });
}

async function requireLongEnough(
  work: Work,
  row: TransferRow,
  order: OrderRow,
  why: string | undefined,
): Promise<void> {
  const clinic = await work.tx.clinic.findUniqueOrThrow({ where: { id: order.clinicId } });
  const found = { expiresOn: fromDate(row.expiresOn) };
  const tooShort = await shortExpiry(work, order.caseId, found, dayIn(clinic.timeZone, work.now));
  if (tooShort === null || why !== undefined) return;
  throw new DomainError(
    'refused',
    'lens.expires-early',
    `${tooShort} Say why it is taken all the same, or choose another.`,
    {},
    [{ pointer: '/why', message: 'Say why it is taken all the same.' }],
  );
}

/** The unit leaves the giver's shelf; from now on it is nobody's to use. */
export async function sendTransfer(work: Work, id: string, input: SendTransfer): Promise<void> {
  const row = await loadTransferAt(work, id, input.version);
  await moveTransfer(work, row, 'send', {
    data: { tracking: input.tracking },
    facts: { tracking: input.tracking },
  });
  const to = await work.tx.clinic.findUniqueOrThrow({ where: { id: row.toClinicId ?? '' } });
  await moveLens(work, await loadLens(work, row.lensId), 'hand-over', { location: to.name }, null);
}

interface Reasoned {
  readonly version: number;
  readonly why: string;
}

/** Steps that need a reason and touch nothing but the transfer. */
export const plainTransferSteps = ['decline', 'withdraw', 'refuse'] as const satisfies TransferEvent[];

export async function endTransfer(
  work: Work,
  id: string,
  event: (typeof plainTransferSteps)[number],
  { version, why }: Reasoned,
): Promise<void> {
  await moveTransfer(work, await loadTransferAt(work, id, version), event, { why });
}

/** A refused unit is back and whole: it stands on the giver's shelf again. */
export async function takeBackTransfer(
  work: Work,
  id: string,
  { version, why, location }: Reasoned & { location: string },
): Promise<void> {
  const row = await loadTransferAt(work, id, version);
  await moveTransfer(work, row, 'take-back', { why });
  await moveLens(work, await loadLens(work, row.lensId), 'take-back', { location }, why);
}

/** A unit that never came back or never arrived is written off. */
export async function loseTransfer(work: Work, id: string, { version, why }: Reasoned): Promise<void> {
  const row = await loadTransferAt(work, id, version);
  await moveTransfer(work, row, 'lose', { why });
  await moveLens(work, await loadLens(work, row.lensId), 'lose', { location: 'lost' }, why);
}
