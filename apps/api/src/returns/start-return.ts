import { DomainError } from '@lensferry/domain';
import { v7 as uuid } from 'uuid';
import { documentNumber } from '../platform/counters.js';
import type { OrderRow } from '../orders/orders.store.js';
import { dayIn, fromDate, plusDays, toDate } from '../platform/plain-date.js';
import { tellingBegins } from '../platform/telling.js';
import type { Work } from '../platform/work.js';
import { loadLensAt, requireNotOffered, type LensRow } from '../stock/move-lens.js';

/**
 * Starts sending a lens back. The maker's window counts from the day the lens came out of the eye, or was received.
 * @param reason one of the exchange reasons, or a sentence.
 */
export async function startReturn(
  work: Work,
  lensId: string,
  input: { version: number; reason: string },
): Promise<string> {
  work.need('lens.return');
  const lens = await loadLensAt(work, lensId, input.version);
  if (!['explanted', 'quarantined', 'in_stock'].includes(lens.state))
    throw new DomainError(
      'conflict',
      'lens.not-returnable',
      `This lens is ${lens.state.replaceAll('_', ' ')}, so it can't go back.`,
      {
        state: lens.state,
      },
    );
  const open = await work.tx.lensReturn.findFirst({ where: { lensId, state: { not: 'written_off' } } });
  if (open !== null)
    throw new DomainError('conflict', 'return.open', `Return ${open.number} is already open for this lens.`);
  await requireNotOffered(work, lens, 'send-back');
  const maker = await work.tx.maker.findUniqueOrThrow({ where: { id: lens.makerId } });
  const order = await work.tx.lensOrder.findFirstOrThrow({ where: { id: lens.orderId } });
  requireDecided(order);
  const clinic = await work.tx.clinic.findUniqueOrThrow({ where: { id: lens.clinicId } });
  const out = await work.tx.implantation.findFirst({ where: { lensId } });
  const from = out?.explantedOn ? fromDate(out.explantedOn) : dayIn(clinic.timeZone, lens.receivedAt);
  const id = uuid();
  const number = await documentNumber(work, 'R', clinic);
  await work.tx.lensReturn.create({
    data: {
      clinicId: lens.clinicId,
      id,
      number,
      lensId,
      makerId: maker.id,
      reason: input.reason,
      state: 'requested',
      stateSince: work.now,
      windowClosesOn: toDate(plusDays(from, maker.returnWindowDays)),
      // What was never paid for brings no credit.
      creditExpected: lens.owner === 'clinic' ? (await paidUnder(work, lens, order)).price : 0,
      currency: order.currency,
      openedAt: work.now,
      telling: tellingBegins(work, maker),
    },
  });
  work.record({
    clinicId: lens.clinicId,
    action: 'return.start',
    caseId: lens.caseId,
    orderId: lens.orderId,
    lensId,
    facts: { number, serial: lens.serial, maker: maker.name },
    why: input.reason,
  });
  if (maker.channel !== 'by_hand') work.emit(lens.clinicId, 'return.send', { returnId: id });
  return id;
}

/**
 * Refuses to move a lens whose quarantine nobody has decided yet: its order would wait for that decision for ever.
 * @throws DomainError `lens.undecided`.
 */
export function requireDecided(order: { state: string; number: string }): void {
  if (order.state === 'quarantined')
    throw new DomainError(
      'refused',
      'lens.undecided',
      `The quarantine of order ${order.number} is not decided yet: release or reject its lens first.`,
    );
}

/** The order that was paid for: the one that brought the lens, not one that it was taken for from the shelf. */
async function paidUnder(
  { tx }: Work,
  { madeUnder, clinicId }: LensRow,
  serves: OrderRow,
): Promise<OrderRow> {
  if (madeUnder === null) return serves;
  return (await tx.lensOrder.findFirst({ where: { clinicId, number: madeUnder } })) ?? serves;
}
