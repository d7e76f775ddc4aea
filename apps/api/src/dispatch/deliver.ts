import { DelayedError, type Job } from 'bullmq';
import { v7 as uuid } from 'uuid';
import { forecastAtSending } from '../leadtimes/keep-forecast.js';
import { makerSecretPurpose, takePace } from '../makers/makers.store.js';
import { changeOf } from '../orders/order-change.js';
import { settleInquiry } from '../orders/ask-makers.js';
import { noteOrder, takeStep } from '../orders/orders.store.js';
import { settleTelling } from '../orders/telling.store.js';
import type { Database } from '../platform/database.js';
import { logger } from '../platform/logger.js';
import type { DispatchJob } from '../platform/queue.js';
import { spanned } from '../platform/tracing.js';
import type { Actor, Work } from '../platform/work.js';
import type { Attempt, Channels, MakerDocument, Parcel } from './channel.js';
import { handOver } from './channels.js';
import { settleReturn } from '../returns/telling.store.js';
import { returnDocument } from './order-document.js';

/** One maker gets so many documents at a time from one process: a slow one can't take every hand. */
const handsForOneMaker = 3;
/** How long a job waits when its maker's hands are full. */
const waitForHandsMs = 150;

/** A failed attempt that is worth another: BullMQ counts and spaces the attempts. */
class TryAgain extends Error {}

/** Who has how many documents of this process in hand. */
class Hands {
  private readonly busy = new Map<string, number>();
  /** Jobs that were put back, with the maker that they wait for: nothing need be read to see that it is still busy. */
  readonly waiting = new Map<string, string>();

  isFull(makerId: string): boolean {
    return (this.busy.get(makerId) ?? 0) >= handsForOneMaker;
  }
  take(makerId: string): void {
    this.busy.set(makerId, (this.busy.get(makerId) ?? 0) + 1);
  }
  giveBack(makerId: string): void {
    this.busy.set(makerId, (this.busy.get(makerId) ?? 1) - 1);
  }
}

/**
 * Handles one job of the dispatch queue. Idempotent: what is already done is left as it is. A job whose maker is busy
 * or out of its pace goes back into the queue without counting as an attempt, so that other makers' jobs pass it.
 */
export function makeDeliver(database: Database, channels: Channels) {
  const hands = new Hands();
  return async (job: Job<DispatchJob>, token?: string): Promise<void> => {
    const { clinicId, eventId } = job.data;
    const waitsFor = hands.waiting.get(eventId);
    if (waitsFor !== undefined && hands.isFull(waitsFor)) return later(job, token, waitForHandsMs);
    const actor: Actor = { kind: 'worker', personId: null, name: 'Dispatch', clinicIds: [clinicId] };
    const taken = await take(database, actor, job.data, hands);
    if (taken === null) {
      hands.waiting.delete(eventId);
      return;
    }
    const { parcel, waitMs } = taken;
    if (waitMs > 0) {
      hands.waiting.set(eventId, parcel.makerId);
      return later(job, token, waitMs);
    }
    hands.waiting.delete(eventId);
    try {
      const attempt = await spanned(
        'send',
        {
          'lensferry.kind': parcel.kind,
          'lensferry.number': parcel.number,
          'lensferry.channel': parcel.to.channel,
        },
        () => handOver(channels, parcel),
      );
      const count = job.attemptsMade + 1;
      const ended = attempt.sent || attempt.final || count >= (job.opts.attempts ?? 1);
      await database.work(actor, (work) =>
        settle(work, { parcel, attempt, ended, eventId, clinicId, count }),
      );
      if (!ended) throw new TryAgain(attempt.outcome);
      logger.info({ number: parcel.number, sent: attempt.sent, status: attempt.status }, 'dispatch');
    } finally {
      hands.giveBack(parcel.makerId);
    }
  };
}

/**
 * What the job has to send, with one of the maker's hands taken for it; or how long it has to wait, with none taken.
 * @returns null when there is nothing to send any more, which is then written down.
 */
async function take(
  database: Database,
  actor: Actor,
  data: DispatchJob,
  hands: Hands,
): Promise<{ parcel: Parcel; waitMs: number } | null> {
  let holding: string | null = null;
  try {
    return await database.work(actor, async (work) => {
      const parcel = await parcelFor(work, data);
      if (parcel === null) {
        await markDone(work, data.eventId);
        return null;
      }
      if (hands.isFull(parcel.makerId)) return { parcel, waitMs: waitForHandsMs };
      hands.take((holding = parcel.makerId));
      const waitMs = await takePace(work, parcel.makerId);
      if (waitMs > 0) hands.giveBack(holding);
      if (waitMs > 0) holding = null;
      return { parcel, waitMs };
    });
  } catch (error) {
    if (holding !== null) hands.giveBack(holding);
    throw error;
  }
}

/** Puts a job back for a while; BullMQ counts no attempt. */
async function later(job: Job<DispatchJob>, token: string | undefined, waitMs: number): Promise<never> {
  await job.moveToDelayed(Date.now() + waitMs, token);
  throw new DelayedError();
}

function parcelFor(work: Work, { topic, payload }: DispatchJob): Promise<Parcel | null> {
  switch (topic) {
    case 'order.send':
      return orderParcel(work, payload['orderId'] ?? '');
    case 'order.cancel':
      return cancellationParcel(work, payload['orderId'] ?? '');
    case 'order.change':
      return changeParcel(work, payload['orderId'] ?? '');
    case 'order.inquiry':
      return inquiryParcel(work, payload['inquiryId'] ?? '');
    default:
      return returnParcel(work, payload['returnId'] ?? '');
  }
}

async function orderParcel(work: Work, orderId: string): Promise<Parcel | null> {
  const order = await work.tx.lensOrder.findFirst({ where: { id: orderId } });
  if (order === null || order.state !== 'queued' || order.document === null) return null;
  return parcelTo(work, order, 'orders', {
    kind: 'order',
    key: order.number,
    document: order.document as unknown as MakerDocument,
    writtenAt: order.placedAt ?? order.openedAt,
  });
}

/** An order may be asked for more than once, after a refusal; each question has a key of its own. */
async function cancellationParcel(work: Work, orderId: string): Promise<Parcel | null> {
  const order = await work.tx.lensOrder.findFirst({ where: { id: orderId } });
  if (order?.state !== 'cancel_requested' || order.cancellation === null) return null;
  const writtenAt = order.cancelAskedAt ?? order.stateSince;
  return parcelTo(work, order, 'cancellations', {
    kind: 'cancellation',
    key: `${order.number}-cancel-${writtenAt.getTime()}`,
    document: order.cancellation as unknown as MakerDocument,
    writtenAt,
  });
}

async function changeParcel(work: Work, orderId: string): Promise<Parcel | null> {
  const order = await work.tx.lensOrder.findFirst({ where: { id: orderId } });
  const change = order === null ? null : changeOf(order);
  if (order?.state !== 'change_requested' || change?.document == null) return null;
  return parcelTo(work, order, 'changes', {
    kind: 'change',
    key: `${order.number}-change-${change.number}`,
    document: change.document,
    writtenAt: new Date(change.document.askedAt),
  });
}

async function inquiryParcel(work: Work, inquiryId: string): Promise<Parcel | null> {
  const row = await work.tx.inquiry.findFirst({ where: { id: inquiryId } });
  if (row === null || row.told !== null || row.document === null) return null;
  return parcelTo(work, row, 'inquiries', {
    kind: 'inquiry',
    key: row.number,
    document: row.document as unknown as MakerDocument,
    writtenAt: row.askedAt,
  });
}

async function returnParcel(work: Work, returnId: string): Promise<Parcel | null> {
  const row = await work.tx.lensReturn.findFirst({ where: { id: returnId } });
  if (row === null || row.state !== 'requested') return null;
  return parcelTo(work, row, 'returns', {
    kind: 'return',
    key: row.number,
    document: await returnDocument(work, returnId),
    writtenAt: row.openedAt,
  });
}

async function parcelTo(
  work: Work,
  of: { id: string; number: string; makerId: string },
  path: string,
  written: Pick<Parcel, 'kind' | 'key' | 'document' | 'writtenAt'>,
): Promise<Parcel | null> {
  const maker = await work.tx.maker.findUniqueOrThrow({ where: { id: of.makerId } });
  const parcel = { ...written, id: of.id, number: of.number, makerId: of.makerId };
  if (maker.channel === 'email')
    return { ...parcel, to: { channel: 'email', address: maker.orderEmail ?? '' } };
  if (maker.channel !== 'https' || maker.endpoint === null || maker.secretSealed === null) return null;
  const secret = work.box.open(maker.secretSealed, makerSecretPurpose(maker.id));
  return { ...parcel, to: { channel: 'https', url: `${maker.endpoint}/${path}`, secret } };
}

export interface Settling {
  readonly parcel: Pick<Parcel, 'kind' | 'id' | 'number'>;
  readonly attempt: Attempt;
  readonly ended: boolean;
  readonly eventId: string;
  readonly clinicId: string;
  readonly count: number;
}

/** Writes down how the attempt went, and where the order stands after it. */
export async function settle(
  work: Work,
  { parcel, attempt, ended, eventId, clinicId, count }: Settling,
): Promise<void> {
  if (parcel.kind === 'inquiry') {
    if (!ended) return;
    await markDone(work, eventId);
    return settleInquiry(work, parcel.id, attempt);
  }
  await work.tx.delivery.create({
    data: {
      clinicId,
      id: uuid(),
      orderId: parcel.kind === 'return' ? null : parcel.id,
      returnId: parcel.kind === 'return' ? parcel.id : null,
      attempt: count,
      at: work.now,
      status: attempt.status,
      outcome: attempt.outcome,
    },
  });
  if (!ended) return;
  await markDone(work, eventId);
  if (parcel.kind === 'return') {
    await settleReturn(work, parcel.id, attempt);
    return;
  }
  const order = await work.tx.lensOrder.findFirst({ where: { id: parcel.id } });
  if (parcel.kind === 'cancellation') {
    if (order?.state === 'cancel_requested') await settleTelling(work, order, attempt);
    if (order?.state === 'cancel_requested' && !attempt.sent)
      await noteOrder(work, order, `Asking the maker to cancel failed: telephone. ${attempt.outcome}`);
    return;
  }
  if (parcel.kind === 'change') {
    if (order?.state === 'change_requested') await settleTelling(work, order, attempt);
    if (order?.state === 'change_requested' && !attempt.sent)
      await noteOrder(work, order, `Telling the maker of the change failed: telephone. ${attempt.outcome}`);
    return;
  }
  if (order === null || order.state !== 'queued') return;
  if (attempt.sent)
    await takeStep(work, order, 'deliver', {
      data: { sentAt: work.now, forecastAtSending: await forecastAtSending(work, order), note: null },
      facts: { attempts: count },
    });
  else
    await takeStep(work, order, 'fail', {
      data: { note: attempt.outcome },
      facts: { attempts: count },
      why: attempt.outcome,
    });
}

async function markDone({ tx, now }: Work, eventId: string): Promise<void> {
  await tx.outboxEvent.updateMany({ where: { id: eventId }, data: { doneAt: now } });
}
