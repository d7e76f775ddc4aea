import type { Job } from 'bullmq';
import { v7 as uuid } from 'uuid';
import { Webhook } from 'standardwebhooks';
import { forecastAtSending } from '../leadtimes/keep-forecast.js';
import { changeOf } from '../orders/order-change.js';
import { noteOrder, takeStep } from '../orders/orders.store.js';
import type { Database } from '../platform/database.js';
import { logger } from '../platform/logger.js';
import type { DispatchJob } from '../platform/queue.js';
import type { Actor, Work } from '../platform/work.js';
import { makerSecretPurpose } from '../makers/makers.store.js';
import { cancellationDocument, returnDocument } from './order-document.js';

const answerWithinMs = 10_000;

/** What is to be handed over, and to whom. */
interface Parcel {
  readonly kind: 'order' | 'change' | 'cancellation' | 'return';
  readonly id: string;
  readonly number: string;
  /** What tells a repetition from a new document; the number when left out. */
  readonly key?: string;
  readonly url: string;
  readonly secret: string;
  readonly body: string;
}

/** How an attempt went. `final` when trying again can't help. */
interface Attempt {
  readonly sent: boolean;
  readonly final: boolean;
  readonly status: number | null;
  readonly outcome: string;
}

/** A failed attempt that is worth another: BullMQ counts and spaces the attempts. */
class TryAgain extends Error {}

/** Handles one job of the dispatch queue. Idempotent: what is already done is left as it is. */
export function makeDeliver(database: Database) {
  return async (job: Job<DispatchJob>): Promise<void> => {
    const { clinicId, eventId, topic, payload } = job.data;
    const actor: Actor = { kind: 'worker', personId: null, name: 'Dispatch', clinicIds: [clinicId] };
    const parcel = await database.work(actor, (work) =>
      topic === 'order.send'
        ? orderParcel(work, payload['orderId'] ?? '')
        : topic === 'order.cancel'
          ? cancellationParcel(work, payload['orderId'] ?? '')
          : topic === 'order.change'
            ? changeParcel(work, payload['orderId'] ?? '')
            : returnParcel(work, payload['returnId'] ?? ''),
    );
    if (parcel === null) {
      await database.work(actor, (work) => markDone(work, eventId));
      return;
    }
    const attempt = await handOver(parcel);
    const last = job.attemptsMade + 1 >= (job.opts.attempts ?? 1);
    const ended = attempt.sent || attempt.final || last;
    await database.work(actor, (work) =>
      settle(work, { parcel, attempt, ended, eventId, clinicId, count: job.attemptsMade + 1 }),
    );
    if (!ended) throw new TryAgain(attempt.outcome);
    logger.info({ number: parcel.number, sent: attempt.sent, status: attempt.status }, 'dispatch');
  };
}

async function orderParcel(work: Work, orderId: string): Promise<Parcel | null> {
  const order = await work.tx.lensOrder.findFirst({ where: { id: orderId } });
  if (order === null || order.state !== 'queued' || order.document === null) return null;
  return parcelTo(work, order.makerId, {
    kind: 'order',
    id: order.id,
    number: order.number,
    body: JSON.stringify(order.document),
    path: 'orders',
  });
}

/** An order may be asked for more than once, after a refusal; each question has a key of its own. */
async function cancellationParcel(work: Work, orderId: string): Promise<Parcel | null> {
  const order = await work.tx.lensOrder.findFirst({ where: { id: orderId } });
  if (order === null || order.state !== 'cancel_requested') return null;
  return parcelTo(work, order.makerId, {
    kind: 'cancellation',
    id: order.id,
    number: order.number,
    key: `${order.number}-cancel-${order.cancelAskedAt?.getTime() ?? 0}`,
    body: JSON.stringify(await cancellationDocument(work, order)),
    path: 'cancellations',
  });
}

async function changeParcel(work: Work, orderId: string): Promise<Parcel | null> {
  const order = await work.tx.lensOrder.findFirst({ where: { id: orderId } });
  const change = order === null ? null : changeOf(order);
  if (order?.state !== 'change_requested' || change?.document == null) return null;
  return parcelTo(work, order.makerId, {
    kind: 'change',
    id: order.id,
    number: order.number,
    key: `${order.number}-change-${change.number}`,
    body: JSON.stringify(change.document),
    path: 'changes',
  });
}

async function returnParcel(work: Work, returnId: string): Promise<Parcel | null> {
  const row = await work.tx.lensReturn.findFirst({ where: { id: returnId } });
  if (row === null || row.state !== 'requested') return null;
  const body = JSON.stringify(await returnDocument(work, returnId));
  return parcelTo(work, row.makerId, {
    kind: 'return',
    id: row.id,
    number: row.number,
    body,
    path: 'returns',
  });
}

async function parcelTo(
  work: Work,
  makerId: string,
  { path, ...parcel }: Pick<Parcel, 'kind' | 'id' | 'number' | 'key' | 'body'> & { path: string },
): Promise<Parcel | null> {
  const maker = await work.tx.maker.findUniqueOrThrow({ where: { id: makerId } });
  if (maker.endpoint === null || maker.secretSealed === null) return null;
  const secret = work.box.open(maker.secretSealed, makerSecretPurpose(maker.id));
  return { ...parcel, url: `${maker.endpoint}/${path}`, secret };
}

/** Posts a document, signed by the Standard Webhooks scheme, with its number as the idempotency key. */
async function handOver(parcel: Parcel): Promise<Attempt> {
  const id = `msg_${uuid()}`;
  const at = new Date();
  const signature = new Webhook(parcel.secret).sign(id, at, parcel.body);
  try {
    const response = await fetch(parcel.url, {
      method: 'POST',
      body: parcel.body,
      signal: AbortSignal.timeout(answerWithinMs),
      redirect: 'error',
      headers: {
        'content-type': 'application/json',
        'idempotency-key': parcel.key ?? parcel.number,
        'webhook-id': id,
        'webhook-timestamp': String(Math.floor(at.getTime() / 1000)),
        'webhook-signature': signature,
      },
    });
    const text = (await response.text()).slice(0, 2000);
    return judge(response.status, text);
  } catch (error) {
    const cause = (error as { cause?: { code?: string } }).cause?.code ?? (error as Error).name;
    return { sent: false, final: false, status: null, outcome: `The maker could not be reached (${cause}).` };
  }
}

function judge(status: number, text: string): Attempt {
  if (status >= 200 && status < 300) return { sent: true, final: true, status, outcome: 'The maker has it.' };
  const again = status >= 500 || [408, 409, 425, 429].includes(status);
  const why = detailOf(text);
  return {
    sent: false,
    final: !again,
    status,
    outcome: `The maker answered ${status}${why === '' ? '' : `: ${why}`}.`,
  };
}

function detailOf(text: string): string {
  try {
    const { detail } = JSON.parse(text) as { detail?: unknown };
    return typeof detail === 'string' ? detail.replace(/\.$/, '').slice(0, 300) : '';
  } catch {
    return '';
  }
}

export interface Settling {
  readonly parcel: Parcel;
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
    await work.tx.lensReturn.updateMany({
      where: { id: parcel.id },
      data: {
        note: attempt.sent ? 'The maker has been told.' : `Telling the maker failed. ${attempt.outcome}`,
      },
    });
    return;
  }
  const order = await work.tx.lensOrder.findFirst({ where: { id: parcel.id } });
  if (parcel.kind === 'cancellation') {
    if (order?.state === 'cancel_requested' && !attempt.sent)
      await noteOrder(work, order, `Asking the maker to cancel failed: telephone. ${attempt.outcome}`);
    return;
  }
  if (parcel.kind === 'change') {
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
