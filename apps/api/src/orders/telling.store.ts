import type { Telling } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { loadOrderAt, orderMoved, loadOrder, type OrderRow } from './orders.store.js';

/** States in which a maker is asked something beside the order itself. */
export const asking: readonly string[] = ['change_requested', 'cancel_requested'];

/** How telling the maker stands; null while it is on its way, and where nothing is asked. */
export function tellingOf(order: Pick<OrderRow, 'telling'>): Telling | null {
  return order.telling as unknown as Telling | null;
}

const asJson = (telling: Telling): Prisma.InputJsonObject => ({ ...telling });

/** What is written with a question to a maker: by hand somebody has to tell it, else the dispatch does. */
export async function tellingAsked(
  { tx, now }: Work,
  makerId: string,
): Promise<Prisma.InputJsonObject | typeof Prisma.DbNull> {
  const { channel } = await tx.maker.findUniqueOrThrow({ where: { id: makerId } });
  return channel === 'by_hand'
    ? asJson({ state: 'by_hand', at: now.toISOString(), why: null, by: null })
    : Prisma.DbNull;
}

/** Writes down that a question reached its maker, or that it finally did not. */
export async function settleTelling(
  { tx, now }: Work,
  order: OrderRow,
  { sent, outcome }: { sent: boolean; outcome: string },
): Promise<void> {
  const telling: Telling = {
    state: sent ? 'told' : 'failed',
    at: now.toISOString(),
    why: sent ? null : outcome,
    by: null,
  };
  await tx.lensOrder.updateMany({
    where: { clinicId: order.clinicId, id: order.id },
    data: { telling: asJson(telling) },
  });
}

/** Sends a question once more that did not reach its maker, with the same key. @throws DomainError `order.nothing-to-tell`. */
export async function tellAgain(
  work: Work,
  orderId: string,
  { version }: { version: number },
): Promise<void> {
  work.need('maker.tell');
  const order = await untold(work, orderId, version);
  const maker = await work.tx.maker.findUniqueOrThrow({ where: { id: order.makerId } });
  if (maker.channel === 'by_hand')
    throw new DomainError(
      'refused',
      'order.told-by-hand',
      `${maker.name} takes no messages: hand the document over and say so, or change its channel first.`,
    );
  await write(work, order, Prisma.DbNull, 'order.tell-again', null);
  const topic = order.state === 'cancel_requested' ? 'order.cancel' : 'order.change';
  work.emit(order.clinicId, topic, { orderId });
}

/** A person says that the maker has been told, and how. @throws DomainError `order.nothing-to-tell`. */
export async function markTold(
  work: Work,
  orderId: string,
  { version, how }: { version: number; how: string },
): Promise<void> {
  work.need('maker.tell');
  const order = await untold(work, orderId, version);
  const told: Telling = { state: 'told', at: work.now.toISOString(), why: how, by: work.actor.name };
  await write(work, order, asJson(told), 'order.told', how);
}

async function untold(work: Work, orderId: string, version: number): Promise<OrderRow> {
  const order = await loadOrderAt(work, orderId, version);
  const telling = tellingOf(order);
  if (asking.includes(order.state) && telling !== null && telling.state !== 'told') return order;
  throw new DomainError(
    'conflict',
    'order.nothing-to-tell',
    'Nothing waits to be told to this order’s maker: it was told, is being told, or is asked nothing.',
    { state: order.state },
  );
}

async function write(
  work: Work,
  order: OrderRow,
  telling: Prisma.InputJsonObject | typeof Prisma.DbNull,
  action: string,
  why: string | null,
): Promise<void> {
  const { count } = await work.tx.lensOrder.updateMany({
    where: { clinicId: order.clinicId, id: order.id, version: order.version },
    data: { telling, note: null, version: order.version + 1 },
  });
  if (count === 0) throw orderMoved(await loadOrder(work, order.id));
  const facts = { number: order.number, asked: order.state };
  work.record({ clinicId: order.clinicId, action, caseId: order.caseId, orderId: order.id, facts, why });
}
