import { DelayedError, type Job } from 'bullmq';
import { takePace } from '../makers/makers.store.js';
import { Batches } from '../platform/batches.js';
import type { Database } from '../platform/database.js';
import { grouped } from '../platform/grouped.js';
import { logger } from '../platform/logger.js';
import type { DispatchJob } from '../platform/queue.js';
import { spanned } from '../platform/tracing.js';
import type { Actor, Work } from '../platform/work.js';
import type { Attempt, Channels, Parcel } from './channel.js';
import { handOver } from './channels.js';
import { Hands } from './hands.js';
import { parcelsFor } from './parcels.js';
import { markDone, settleAll, type Settling } from './settle.js';

/** How long a job waits when its maker's hands are full. */
const waitForHandsMs = 150;
/** So many jobs of a clinic are looked up, or their attempts written down, in one transaction. */
const mostTogether = 50;

/** A failed attempt that is worth another: BullMQ counts and spaces the attempts. */
class TryAgain extends Error {}

/** What a job has to send, with one of its maker's hands taken; or how long it has to wait, with none taken. */
interface Taken {
  readonly parcel: Parcel;
  readonly waitMs: number;
}

/**
 * Handles one job of the dispatch queue. Idempotent: what is already done is left as it is. A job whose maker is busy
 * or out of its pace goes back into the queue without counting as an attempt, so that other makers' jobs pass it.
 * What a clinic's jobs look up and write down at the same time shares a transaction; nothing is sent within one.
 */
export function makeDeliver(database: Database, channels: Channels) {
  const hands = new Hands();
  const takes = new Batches<DispatchJob, Taken | null>(mostTogether, (clinicId, jobs) =>
    takeAll(database, dispatcher(clinicId), jobs, hands),
  );
  const settlings = new Batches<Settling, void>(mostTogether, async (clinicId, all) => {
    await database.work(dispatcher(clinicId), (work) => settleAll(work, all));
    return [];
  });
  return async (job: Job<DispatchJob>, token?: string): Promise<void> => {
    const { clinicId, eventId } = job.data;
    if (hands.stillWaits(eventId)) return later(job, token, waitForHandsMs);
    const taken = await takes.add(clinicId, job.data);
    if (taken === null) return;
    const { parcel, waitMs } = taken;
    if (waitMs > 0) {
      hands.putBack(eventId, parcel.makerId);
      return later(job, token, waitMs);
    }
    const attempt = await send(channels, parcel, hands);
    const count = job.attemptsMade + 1;
    const ended = attempt.sent || attempt.final || count >= (job.opts.attempts ?? 1);
    await settlings.add(clinicId, { parcel, attempt, ended, eventId, clinicId, count });
    if (!ended) throw new TryAgain(attempt.outcome);
    logger.info({ number: parcel.number, sent: attempt.sent, status: attempt.status }, 'dispatch');
  };
}

const dispatcher = (clinicId: string): Actor => ({
  kind: 'worker',
  personId: null,
  name: 'Dispatch',
  clinicIds: [clinicId],
});

/** Hands a parcel over; its maker's hand is free again as soon as the maker has answered. */
async function send(channels: Channels, parcel: Parcel, hands: Hands): Promise<Attempt> {
  const { kind, number, makerId, to } = parcel;
  const from = performance.now();
  try {
    const attempt = await spanned(
      'send',
      { 'lensferry.kind': kind, 'lensferry.number': number, 'lensferry.channel': to.channel },
      () => handOver(channels, parcel),
    );
    hands.answered(makerId, attempt.status === null ? null : performance.now() - from);
    return attempt;
  } finally {
    hands.giveBack(makerId);
  }
}

/** What some jobs of one clinic have to send; null for one that has nothing to send any more, which is written down. */
async function takeAll(
  database: Database,
  actor: Actor,
  jobs: readonly DispatchJob[],
  hands: Hands,
): Promise<(Taken | null)[]> {
  const held: string[] = [];
  try {
    return await database.work(actor, async (work) => {
      const parcels = await parcelsFor(work, jobs);
      await markDone(
        work,
        jobs.filter((_, at) => parcels[at] === null).map(({ eventId }) => eventId),
      );
      const waitOf = await share(
        work,
        parcels.filter((parcel) => parcel !== null),
        hands,
        held,
      );
      return parcels.map((parcel) => parcel && { parcel, waitMs: waitOf.get(parcel) ?? 0 });
    });
  } catch (error) {
    for (const makerId of held) hands.giveBack(makerId);
    throw error;
  }
}

/**
 * Takes hands and pace of their makers for as many parcels as may go now. Makers in the order of their identifiers,
 * so that two transactions never wait for each other's.
 * @returns how long each of the others has to wait.
 */
async function share(
  work: Work,
  parcels: readonly Parcel[],
  hands: Hands,
  held: string[],
): Promise<Map<Parcel, number>> {
  const waits = new Map<Parcel, number>();
  const byMaker = [...grouped(parcels, ({ makerId }) => makerId)].sort(([a], [b]) => (a < b ? -1 : 1));
  for (const [makerId, all] of byMaker) {
    const wanted = Math.min(hands.free(makerId), all.length);
    hands.take(makerId, wanted);
    held.push(...Array<string>(wanted).fill(makerId));
    for (const parcel of all.slice(wanted)) waits.set(parcel, waitForHandsMs);
    if (wanted === 0) continue;
    const { taken, waitMs } = await takePace(work, makerId, wanted);
    for (const parcel of all.slice(taken, wanted)) waits.set(parcel, waitMs);
    hands.giveBack(makerId, wanted - taken);
    held.splice(held.length - (wanted - taken));
  }
  return waits;
}

/** Puts a job back for a while; BullMQ counts no attempt. */
async function later(job: Job<DispatchJob>, token: string | undefined, waitMs: number): Promise<never> {
  await job.moveToDelayed(Date.now() + waitMs, token);
  throw new DelayedError();
}
