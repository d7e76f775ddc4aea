import {
  DomainError,
  heardFromMaker,
  nextState,
  orderLifecycle,
  type OrderEvent,
  type OrderState,
} from '@lensferry/domain';
import { padded } from '../platform/padded.js';
import { Prisma } from '../platform/prisma-client/client.js';
import { grouped } from '../platform/grouped.js';
import type { Work } from '../platform/work.js';
import { waitThatEnds } from '../leadtimes/lead-time-history.queries.js';
import { refreshStages } from '../cases/refresh-stage.js';

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
 * brings the case's stage up to date.
 */
export async function takeStep(
  work: Work,
  order: OrderRow,
  event: OrderEvent,
  details: StepDetails = {},
): Promise<OrderRow> {
  await takeSteps(work, event, [{ ...details, order }]);
  return loadOrder(work, order.id);
}

/**
 * The same step of several orders; those that change alike are changed in one statement. All take it or none. The only
 * place where an order's state is written.
 */
export async function takeSteps(
  work: Work,
  event: OrderEvent,
  steps: readonly (StepDetails & { readonly order: OrderRow })[],
): Promise<void> {
  const moves = [];
  for (const { order, data = {} } of steps)
    moves.push({ order, data: await changeOfStep(work, order, event, data) });
  for (const alike of grouped(moves, likeness).values()) await moveAlike(work, alike);
  for (const [at, { order, facts, why }] of steps.entries())
    work.record({
      clinicId: order.clinicId,
      action: `order.${event}`,
      caseId: order.caseId,
      orderId: order.id,
      facts: { number: order.number, before: order.state, after: moves[at]?.data.state, ...facts },
      why: why ?? null,
    });
  await refreshStages(
    work,
    steps.map(({ order }) => order.caseId),
  );
}

type Change = Prisma.LensOrderUncheckedUpdateManyInput & { state: OrderState };
interface Move {
  readonly order: OrderRow;
  readonly data: Change;
}

/** What a step changes in the row of its order. */
async function changeOfStep(
  work: Work,
  order: OrderRow,
  event: OrderEvent,
  data: Prisma.LensOrderUncheckedUpdateManyInput,
): Promise<Change> {
  const state = nextState(orderLifecycle, order.state, event, work.actor.kind);
  const after = { ...order, ...(data as Partial<OrderRow>), state };
  return {
    ...data,
    ...(order.telling === null || asked.includes(state) ? {} : { telling: Prisma.DbNull }),
    ...(order.inquiryId !== null && heardFromMaker.includes(event) ? { inquiryId: null } : {}),
    ...(await waitThatEnds(work, order, after)),
    ...(order.change === null || withChange.includes(state) ? {} : { change: Prisma.DbNull }),
    state,
    version: order.version + 1,
    ...(state === order.state ? {} : { stateSince: work.now }),
  };
}

/** The same for orders whose rows are changed from the same state to the same values. */
const likeness = ({ order, data }: Move): string =>
  JSON.stringify([order.clinicId, order.state, order.version, data], (_, value: unknown) =>
    value === Prisma.DbNull ? 'no value in the database' : value,
  );

async function moveAlike(work: Work, alike: readonly Move[]): Promise<void> {
  const [{ order, data }] = alike as [Move];
  const ids = alike.map((move) => move.order.id);
  const { count } = await work.tx.lensOrder.updateMany({
    where: { clinicId: order.clinicId, id: { in: padded(ids) }, state: order.state, version: order.version },
    data,
  });
  if (count === ids.length) return;
  const rows = await work.tx.lensOrder.findMany({ where: { id: { in: ids } } });
  throw orderMoved(
    rows.find(({ state, version }) => state !== data.state || version !== data.version) ?? order,
  );
}

/** Writes beside an order why it stands where it stands, without moving it. */
export async function noteOrder({ tx }: Work, order: OrderRow, note: string): Promise<void> {
  await tx.lensOrder.updateMany({ where: { clinicId: order.clinicId, id: order.id }, data: { note } });
}
