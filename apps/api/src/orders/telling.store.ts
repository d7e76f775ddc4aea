import { DomainError } from '@lensferry/domain';
import {
  isUntold,
  onItsWay,
  tellingBegins,
  tellingSettled,
  toldByPerson,
  type KeptTelling,
} from '../platform/telling.js';
import type { Work } from '../platform/work.js';
import { loadOrderAt, orderMoved, loadOrder, type OrderRow } from './orders.store.js';

/** States in which a maker is asked something beside the order itself. */
export const asking: readonly string[] = ['change_requested', 'cancel_requested'];

/** What is written with a question to a maker. */
export async function tellingAsked(work: Work, makerId: string): Promise<KeptTelling> {
  return tellingBegins(work, await work.tx.maker.findUniqueOrThrow({ where: { id: makerId } }));
}

/** Writes down that a question reached its maker, or that it finally did not. */
export async function settleTelling(
  work: Work,
  { clinicId, id }: OrderRow,
  attempt: { sent: boolean; outcome: string },
): Promise<void> {
  await work.tx.lensOrder.updateMany({
    where: { clinicId, id },
    data: { telling: tellingSettled(work, attempt) },
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
  await write(work, order, onItsWay, 'order.tell-again', null);
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
  await write(work, order, toldByPerson(work, how), 'order.told', how);
}

async function untold(work: Work, orderId: string, version: number): Promise<OrderRow> {
  const order = await loadOrderAt(work, orderId, version);
  if (asking.includes(order.state) && isUntold(order)) return order;
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
  telling: KeptTelling,
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
