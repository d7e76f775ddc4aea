import { DomainError } from '@lensferry/domain';
import { cancellationDocument, orderDocument } from '../dispatch/order-document.js';
import { forecastAtSending } from '../leadtimes/keep-forecast.js';
import { canonicalHash } from '../platform/audit.js';
import { dayIn, toDate } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import { tellNeedBy } from './change-order.js';
import { changeOf } from './order-change.js';
import { tellingAsked } from './telling.store.js';
import { transferFor } from '../transfers/move-transfer.js';
import { voidSignature } from './sign-order.js';
import { loadOrderAt, takeStep, type OrderRow } from './orders.store.js';

/** A step by a person: the version they saw, and what they wrote. */
interface Seen {
  readonly version: number;
}
interface Reasoned extends Seen {
  readonly why: string;
}

/** Puts an order before the surgeon. What is put before them is kept, so that later changes can be shown. */
export async function submitOrder(work: Work, orderId: string, { version }: Seen): Promise<void> {
  const order = await loadOrderAt(work, orderId, version);
  await takeStep(work, order, 'submit', {
    data: { submittedSpecification: order.specification ?? {}, note: null },
    facts: { specificationHash: order.specificationHash },
  });
}

export async function requestChanges(work: Work, orderId: string, { version, why }: Reasoned): Promise<void> {
  const order = await loadOrderAt(work, orderId, version);
  await takeStep(work, order, 'request-changes', { data: { note: why }, why });
}

/** Queues a signed order for its maker: the order and the outbox row are written together or not at all. */
export async function placeOrder(work: Work, orderId: string, { version }: Seen): Promise<void> {
  const order = await loadOrderAt(work, orderId, version);
  await requireNoTransfer(work, order);
  const placed = await takeStep(work, order, 'place', { data: { placedAt: work.now, note: null } });
  await requireSignature(work, placed);
  const document = await orderDocument(work, placed);
  await work.tx.lensOrder.update({
    where: { clinicId_id: { clinicId: order.clinicId, id: orderId } },
    data: { document },
  });
  await emitSending(work, order);
}

/** A lens of another clinic that is on its way for an order makes a new one needless. @throws DomainError `order.lens-on-its-way`. */
async function requireNoTransfer(work: Work, order: OrderRow): Promise<void> {
  const transfer = await transferFor(work, order);
  if (transfer === null) return;
  throw new DomainError(
    'refused',
    'order.lens-on-its-way',
    `Lens ${transfer.serial} of another clinic is taken up for order ${order.number}; decline or refuse it before you order a new one.`,
    { serial: transfer.serial, number: order.number },
  );
}

/** Tries once more to reach the maker, with the same idempotency key. */
export async function retryOrder(work: Work, orderId: string, { version }: Seen): Promise<void> {
  const order = await loadOrderAt(work, orderId, version);
  await takeStep(work, order, 'retry', { data: { note: null } });
  await emitSending(work, order);
}

/** A coordinator says that a maker without a message channel has been given the order. */
export async function markDelivered(work: Work, orderId: string, { version }: Seen): Promise<void> {
  const order = await loadOrderAt(work, orderId, version);
  const maker = await work.tx.maker.findUniqueOrThrow({ where: { id: order.makerId } });
  if (maker.channel !== 'by_hand' && order.state !== 'send_failed')
    throw new DomainError(
      'refused',
      'order.sent-by-message',
      `${maker.name} takes orders by message; the dispatch sends it by itself.`,
    );
  await takeStep(work, order, 'deliver', {
    data: { sentAt: work.now, forecastAtSending: await forecastAtSending(work, order), note: null },
    facts: { channel: 'by_hand', afterFailure: order.state === 'send_failed' },
  });
}

export async function acknowledgeByHand(
  work: Work,
  orderId: string,
  { version, promisedOn }: Seen & { promisedOn: string },
): Promise<void> {
  const order = await loadOrderAt(work, orderId, version);
  await requireFuture(work, order, '/promisedOn', promisedOn);
  requireNoChangeInDispute(order);
  await takeStep(work, order, 'acknowledge', {
    data: {
      acknowledgedAt: work.now,
      promisedOn: toDate(promisedOn),
      firstPromisedOn: toDate(promisedOn),
      note: null,
    },
    facts: { promisedOn, entered: 'by hand' },
  });
  await tellNeedBy(work, orderId);
}

/** @throws DomainError `order.answer-the-change` where an echo is disputed and it is open which lens is being made. */
export function requireNoChangeInDispute(order: OrderRow): void {
  if (order.state === 'disputed' && changeOf(order) !== null)
    throw new DomainError(
      'conflict',
      'order.answer-the-change',
      'A change of this order is not answered yet; enter whether the maker agrees to it or refuses it.',
    );
}

export async function changePromise(
  work: Work,
  orderId: string,
  { version, promisedOn, why }: Reasoned & { promisedOn: string },
): Promise<void> {
  const order = await loadOrderAt(work, orderId, version);
  await requireFuture(work, order, '/promisedOn', promisedOn);
  await takeStep(work, order, 'promise', {
    data: { promisedOn: toDate(promisedOn), note: why },
    facts: { promisedOn, entered: 'by hand' },
    why,
  });
}

export async function declineByHand(work: Work, orderId: string, { version, why }: Reasoned): Promise<void> {
  const order = await loadOrderAt(work, orderId, version);
  await takeStep(work, order, 'decline', { data: { note: why, endedAt: work.now }, why });
}

export async function shipByHand(
  work: Work,
  orderId: string,
  { version, tracking, expectedOn }: Seen & { tracking: string; expectedOn: string },
): Promise<void> {
  const order = await loadOrderAt(work, orderId, version);
  await requireFuture(work, order, '/expectedOn', expectedOn);
  await takeStep(work, order, 'ship', {
    data: { shippedAt: work.now, tracking, expectedOn: toDate(expectedOn), note: null },
    facts: { tracking, expectedOn, entered: 'by hand' },
  });
}

/** Gives an order up before its maker has it. A signature on it is void from then on. */
export async function cancelOrder(work: Work, orderId: string, { version, why }: Reasoned): Promise<void> {
  const order = await loadOrderAt(work, orderId, version);
  await takeStep(work, order, 'cancel', { data: { note: why, endedAt: work.now }, why });
  await voidSignature(work, order, 'The order was cancelled.');
}

/** Asks the maker to cancel an order that it has; the order stands until it answers. */
export async function askToCancel(work: Work, orderId: string, { version, why }: Reasoned): Promise<void> {
  const order = await loadOrderAt(work, orderId, version);
  const cancellation = await cancellationDocument(work, order, why);
  const asked = await takeStep(work, order, 'ask-cancel', {
    data: {
      note: why,
      cancelAskedAt: work.now,
      cancellation,
      telling: await tellingAsked(work, order.makerId),
    },
    why,
  });
  const maker = await work.tx.maker.findUniqueOrThrow({ where: { id: asked.makerId } });
  if (maker.channel !== 'by_hand') work.emit(order.clinicId, 'order.cancel', { orderId });
}

/** The maker agreed, by message or as a coordinator heard it: the order is over and its signature void. */
export async function acceptCancellation(work: Work, order: OrderRow): Promise<void> {
  await takeStep(work, order, 'accept-cancel', { data: { endedAt: work.now } });
  await voidSignature(work, order, 'The maker agreed to cancel the order.');
}

/** It is too late: the order goes on as before. A maker that refuses has the order, whether or not it said so before. */
export async function refuseCancellation(work: Work, order: OrderRow, why: string): Promise<void> {
  await takeStep(work, order, 'refuse-cancel', {
    data: { note: why, acknowledgedAt: order.acknowledgedAt ?? work.now },
    why,
  });
}

export async function acceptCancellationByHand(
  work: Work,
  orderId: string,
  { version }: Seen,
): Promise<void> {
  await acceptCancellation(work, await loadOrderAt(work, orderId, version));
}

export async function refuseCancellationByHand(
  work: Work,
  orderId: string,
  { version, why }: Reasoned,
): Promise<void> {
  await refuseCancellation(work, await loadOrderAt(work, orderId, version), why);
}

/** @throws DomainError `order.unsigned` unless a standing signature binds to exactly this specification. */
async function requireSignature(work: Work, order: OrderRow): Promise<void> {
  const hash = canonicalHash(order.specification);
  const signature = await work.tx.signature.findFirst({ where: { orderId: order.id, voidedAt: null } });
  if (signature?.specificationHash !== hash || hash !== order.specificationHash)
    throw new DomainError(
      'conflict',
      'order.unsigned',
      'No standing signature binds to this specification; a surgeon has to sign it first.',
    );
}

async function emitSending(work: Work, order: OrderRow): Promise<void> {
  const maker = await work.tx.maker.findUniqueOrThrow({ where: { id: order.makerId } });
  if (maker.channel !== 'by_hand') work.emit(order.clinicId, 'order.send', { orderId: order.id });
}

async function requireFuture(work: Work, order: OrderRow, pointer: string, day: string): Promise<void> {
  const clinic = await work.tx.clinic.findUniqueOrThrow({ where: { id: order.clinicId } });
  if (day < dayIn(clinic.timeZone, work.now))
    throw new DomainError('invalid', 'order.day-past', `${day} lies in the past.`, {}, [
      { pointer, message: 'Choose today or a later day.' },
    ]);
}
