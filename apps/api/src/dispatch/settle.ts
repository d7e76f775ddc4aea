import { v7 as uuid } from 'uuid';
import { forecastsAtSending } from '../leadtimes/keep-forecast.js';
import { settleInquiry } from '../orders/ask-makers.js';
import { noteOrder, takeStep, takeSteps, type OrderRow } from '../orders/orders.store.js';
import { settleTelling } from '../orders/telling.store.js';
import { padded } from '../platform/padded.js';
import type { Work } from '../platform/work.js';
import { settleReturn } from '../returns/telling.store.js';
import type { Attempt, Parcel } from './channel.js';

export interface Settling {
  readonly parcel: Pick<Parcel, 'kind' | 'id' | 'number'>;
  readonly attempt: Attempt;
  readonly ended: boolean;
  readonly eventId: string;
  readonly clinicId: string;
  readonly count: number;
}

/** Writes down how an attempt went, and where the order stands after it. */
export const settle = (work: Work, settling: Settling): Promise<void> => settleAll(work, [settling]);

/** The same of several attempts for one clinic: what is alike in them is read and written once. */
export async function settleAll(work: Work, all: readonly Settling[]): Promise<void> {
  await keepDeliveries(
    work,
    all.filter(({ parcel }) => parcel.kind !== 'inquiry'),
  );
  const ended = all.filter((one) => one.ended);
  await markDone(
    work,
    ended.map(({ eventId }) => eventId),
  );
  const orders = await ordersOf(work, ended);
  const sent = new Map<string, { order: OrderRow; count: number }>();
  for (const settling of ended) {
    const { parcel, attempt, count } = settling;
    const order = orders.get(parcel.id);
    if (parcel.kind === 'inquiry') await settleInquiry(work, parcel.id, attempt);
    else if (parcel.kind === 'return') await settleReturn(work, parcel.id, attempt);
    else if (parcel.kind !== 'order') await settleQuestion(work, order, settling);
    else if (order?.state === 'queued' && attempt.sent) sent.set(order.id, { order, count });
    else if (order?.state === 'queued') await fail(work, order, settling);
  }
  await deliver(work, [...sent.values()]);
}

async function keepDeliveries({ tx, now }: Work, all: readonly Settling[]): Promise<void> {
  if (all.length === 0) return;
  await tx.delivery.createMany({
    data: all.map(({ parcel, attempt, clinicId, count }) => ({
      clinicId,
      id: uuid(),
      orderId: parcel.kind === 'return' ? null : parcel.id,
      returnId: parcel.kind === 'return' ? parcel.id : null,
      attempt: count,
      at: now,
      status: attempt.status,
      outcome: attempt.outcome,
    })),
  });
}

/** Nothing more is to be done for these events of the outbox. */
export async function markDone({ tx, now }: Work, eventIds: readonly string[]): Promise<void> {
  if (eventIds.length === 0) return;
  await tx.outboxEvent.updateMany({ where: { id: { in: padded(eventIds) } }, data: { doneAt: now } });
}

async function ordersOf({ tx }: Work, all: readonly Settling[]): Promise<Map<string, OrderRow>> {
  const ids = all.flatMap(({ parcel }) =>
    parcel.kind === 'return' || parcel.kind === 'inquiry' ? [] : parcel.id,
  );
  const rows = ids.length === 0 ? [] : await tx.lensOrder.findMany({ where: { id: { in: padded(ids) } } });
  return new Map(rows.map((row) => [row.id, row]));
}

const questions = {
  cancellation: { state: 'cancel_requested', failed: 'Asking the maker to cancel failed: telephone.' },
  change: { state: 'change_requested', failed: 'Telling the maker of the change failed: telephone.' },
};

/** How asking the maker to change or cancel an order went, if that is still asked. */
async function settleQuestion(
  work: Work,
  order: OrderRow | undefined,
  { parcel, attempt }: Settling,
): Promise<void> {
  const { state, failed } = questions[parcel.kind as keyof typeof questions];
  if (order?.state !== state) return;
  await settleTelling(work, order, attempt);
  if (!attempt.sent) await noteOrder(work, order, `${failed} ${attempt.outcome}`);
}

async function fail(work: Work, order: OrderRow, { attempt, count }: Settling): Promise<void> {
  await takeStep(work, order, 'fail', {
    data: { note: attempt.outcome },
    facts: { attempts: count },
    why: attempt.outcome,
  });
}

/** Orders that are with their makers now, each with the forecast of this moment. */
async function deliver(work: Work, sent: readonly { order: OrderRow; count: number }[]): Promise<void> {
  if (sent.length === 0) return;
  const forecastOf = await forecastsAtSending(
    work,
    sent.map(({ order }) => order),
  );
  await takeSteps(
    work,
    'deliver',
    sent.map(({ order, count }) => ({
      order,
      data: { sentAt: work.now, forecastAtSending: forecastOf(order), note: null },
      facts: { attempts: count },
    })),
  );
}
