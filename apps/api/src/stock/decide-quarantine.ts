import { DomainError } from '@lensferry/domain';
import { refreshStage } from '../cases/refresh-stage.js';
import { loadOrder, takeStep } from '../orders/orders.store.js';
import type { Work } from '../platform/work.js';
import { labelWords } from '../receiving/read-arrival.js';
import { requireDecided, startReturn } from '../returns/start-return.js';
import { reserveForEye } from './keep-for-case.js';
import { loadLensAt, moveLens, unreadOf, type LensRow } from './move-lens.js';

interface Decision {
  readonly version: number;
  readonly why: string;
}

/** A surgeon lets a quarantined lens go to its case after all, and says why. */
export async function releaseLens(work: Work, lensId: string, { version, why }: Decision): Promise<void> {
  const lens = await loadLensAt(work, lensId, version);
  if (lens.damaged)
    throw new DomainError(
      'refused',
      'lens.damaged',
      'Its pack came damaged, so nobody can say that it is sterile: reject it, and order another.',
    );
  const unread = unreadOf(lens.lens);
  if (unread.length > 0)
    throw new DomainError(
      'refused',
      'lens.unread',
      `Nobody has read ${unread.map((field) => labelWords[field]).join(', ')} off this pack yet; read it first, or reject the lens.`,
      { unread },
    );
  const order = await loadOrder(work, lens.orderId);
  const released = await moveLens(work, lens, 'release', { quarantineWhy: null }, why);
  await reserveForEye(work, released, order);
  await takeStep(work, order, 'release', { data: { endedAt: work.now, note: null }, why });
  await refreshStage(work, order.caseId);
}

/** A quarantined lens goes back to its maker; the case plans and orders anew. */
export async function rejectLens(work: Work, lensId: string, { version, why }: Decision): Promise<void> {
  const lens = await loadLensAt(work, lensId, version);
  const order = await loadOrder(work, lens.orderId);
  if (lens.state !== 'quarantined')
    throw new DomainError('conflict', 'lens.not-quarantined', 'Only a quarantined lens is rejected.', {
      state: lens.state,
    });
  await takeStep(work, order, 'reject', { data: { endedAt: work.now, note: why }, why });
  if (work.actor.kind !== 'surgeon')
    await startReturn(work, lensId, {
      version: lens.version,
      reason: lens.damaged ? 'damage' : 'wrong_lens',
    });
}

/** Takes a lens out of use for good. */
export async function discardLens(work: Work, lensId: string, { version, why }: Decision): Promise<void> {
  work.need('lens.discard');
  const lens = await loadLensAt(work, lensId, version);
  await requireOver(work, lens);
  await moveLens(work, lens, 'discard', { location: 'discarded' }, why);
}

/** A unit that can't be found any more is written off; the eye that waited for it needs another. */
export async function loseLens(work: Work, lens: LensRow, why: string): Promise<void> {
  await requireOver(work, lens);
  const { caseId } = lens;
  const free =
    lens.state === 'reserved' ? await moveLens(work, lens, 'unreserve', { caseId: null }, why) : lens;
  await moveLens(work, free, 'lose', { location: 'lost' }, why);
  if (caseId !== null) await refreshStage(work, caseId);
}

/** Nothing else may still be open for a unit that is taken out of use. @throws DomainError `lens.return-open`, `lens.undecided`. */
async function requireOver(work: Work, lens: LensRow): Promise<void> {
  const open = await work.tx.lensReturn.findFirst({
    where: { lensId: lens.id, state: { not: 'written_off' } },
  });
  if (open !== null)
    throw new DomainError(
      'refused',
      'lens.return-open',
      `Return ${open.number} is open for this lens; write it off first.`,
    );
  requireDecided(await loadOrder(work, lens.orderId));
}
