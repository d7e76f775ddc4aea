import {
  DomainError,
  heardFromMaker,
  nextState,
  orderLifecycle,
  type OrderEvent,
  type OrderState,
} from '@lensferry/domain';
import { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { waitThatEnds } from '../leadtimes/lead-time-history.queries.js';
import { refreshStage } from '../cases/refresh-stage.js';

export type OrderRow = Prisma.LensOrderGetPayload<object>;

export const orderMissing = () =>
  new DomainError('missing', 'order.missing', 'There is no such order at your clinics.');

export const orderMoved = (order: { state: string; version: number }) =>
  new DomainError(
    'conflict',
    'order.moved',
    `Somebody moved this order since you opened it: it is now ${order.state.replaceAll('_', ' ')}. Reload to go on.`,
    {
      state: order.state,
      version: order.version,
    },
  );

export async function loadOrder({ tx }: Work, orderId: string): Promise<OrderRow> {
  const row = await tx.lensOrder.findFirst({ where: { id: orderId } });
  if (row === null) throw orderMissing();
  return row;
}

/** Loads an order as the person saw it. @throws DomainError `order.moved`. */
export async function loadOrderAt(work: Work, orderId: string, version: number): Promise<OrderRow> {
  const row = await loadOrder(work, orderId);
  if (row.version !== version) throw orderMoved(row);
  return row;
}

/** Where a change can still be signed or answered; a step to any other state ends it. */
const withChange: readonly OrderState[] = ['change_proposed', 'change_requested', 'disputed'];

/** Where a maker is asked something; a step to any other state answers it. */
const asked: readonly OrderState[] = ['change_requested', 'cancel_requested'];

interface StepDetails {
  /** Plain values, never increments: what the row becomes is worked out from them. */
  readonly data?: Prisma.LensOrderUncheckedUpdateManyInput;
  readonly facts?: Record<string, unknown>;
  readonly why?: string | null;
}

/**
 * Takes one step of the order's lifecycle: checks the table, changes the row only if nobody else has, records it, and
 * brings the case's stage up to date. The only place where an order's state is written.
 */
export async function takeStep(
  work: Work,
  order: OrderRow,
  event: OrderEvent,
  details: StepDetails = {},
): Promise<OrderRow> {
  const state = nextState(orderLifecycle, order.state, event, work.actor.kind);
  const after = { ...order, ...(details.data as Partial<OrderRow>), state };
  const { count } = await work.tx.lensOrder.updateMany({
    where: { clinicId: order.clinicId, id: order.id, state: order.state, version: order.version },
    data: {
      ...details.data,
      ...(order.telling === null || asked.includes(state) ? {} : { telling: Prisma.DbNull }),
      ...(order.inquiryId !== null && heardFromMaker.includes(event) ? { inquiryId: null } : {}),
      ...(await waitThatEnds(work, order, after)),
      ...(order.change === null || withChange.includes(state) ? {} : { change: Prisma.DbNull }),
      state,
      version: order.version + 1,
      ...(state === order.state ? {} : { stateSince: work.now }),
    },
  });
  if (count === 0) throw orderMoved(await loadOrder(work, order.id));
  work.record({
    clinicId: order.clinicId,
    action: `order.${event}`,
    caseId: order.caseId,
    orderId: order.id,
    facts: { number: order.number, before: order.state, after: state, ...details.facts },
    why: details.why ?? null,
  });
  await refreshStage(work, order.caseId);
  return loadOrder(work, order.id);
}

/** Writes beside an order why it stands where it stands, without moving it. */
export async function noteOrder({ tx }: Work, order: OrderRow, note: string): Promise<void> {
  await tx.lensOrder.updateMany({ where: { clinicId: order.clinicId, id: order.id }, data: { note } });
}
