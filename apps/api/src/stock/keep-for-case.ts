import type { OwnLens, ReserveLens } from '@lensferry/contracts';
import { DomainError, type Specification } from '@lensferry/domain';
import { lensInEye, loadCase, openExchangeOf, orderOfRound } from '../cases/cases.store.js';
import { refreshStage } from '../cases/refresh-stage.js';
import { loadOrder, takeStep, type OrderRow } from '../orders/orders.store.js';
import { dayIn, fromDate } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import { shortExpiry } from '../receiving/read-arrival.js';
import { loadLensAt, moveLens, type LensRow } from './move-lens.js';
import { differencesOf } from './unit-differences.js';

/**
 * Takes a lens off its case, and says why; it then stands on the shelf for whom it fits, can go back to its maker, or is
 * taken for its case again. The case plans anew or is withdrawn.
 */
export async function freeLens(
  work: Work,
  lensId: string,
  { version, why }: { version: number; why: string },
): Promise<void> {
  const lens = await loadLensAt(work, lensId, version);
  await moveLens(work, lens, 'unreserve', { caseId: null }, why);
  if (lens.caseId !== null) await refreshStage(work, lens.caseId);
}

/**
 * Takes a lens from the shelf for an order: for the one that it came with, or for another that a surgeon has approved
 * and that asks for exactly this lens; that one is then never sent to a maker, and costs nothing more.
 * @throws DomainError `lens.not-for-order` saying what differs, `lens.expires-early` where it needs a reason.
 */
export async function reserveLens(work: Work, lensId: string, input: ReserveLens): Promise<void> {
  const lens = await loadLensAt(work, lensId, input.version);
  const order = await loadOrder(work, input.orderId);
  const own = order.id === lens.orderId;
  if (order.state !== (own ? 'accepted' : 'approved'))
    throw new DomainError(
      'refused',
      'lens.order-not-open',
      own
        ? `Order ${order.number} is not waiting for a lens from the shelf any more.`
        : `A lens is taken from the shelf for an order that a surgeon has approved and nobody has placed yet; order ${order.number} is ${order.state.replaceAll('_', ' ')}.`,
      { state: order.state },
    );
  await requireNoReturn(work, lens);
  await requireWaiting(work, order);
  if (!own) await requireSame(work, lens, order);
  await requireLongEnough(work, lens, order, input.why);
  const from = await loadOrder(work, lens.orderId);
  // Its maker goes on knowing it by the number that it was made under.
  const madeUnder = lens.madeUnder ?? from.number;
  await moveLens(
    work,
    lens,
    'reserve',
    { caseId: order.caseId, orderId: order.id, ...(own ? {} : { madeUnder }) },
    input.why ?? null,
  );
  if (!own) {
    await takeStep(work, order, 'fill', {
      data: {
        placedAt: work.now,
        endedAt: work.now,
        price: 0,
        note: `From the shelf; it came with order ${from.number}.`,
      },
      facts: { serial: lens.serial, cameWith: from.number },
      why: input.why ?? null,
    });
  }
  await refreshStage(work, order.caseId);
}

/** A lens on its way back is nobody's any more. @throws DomainError `lens.return-open`. */
async function requireNoReturn({ tx }: Work, lens: LensRow): Promise<void> {
  const open = await tx.lensReturn.findFirst({ where: { lensId: lens.id, state: { not: 'written_off' } } });
  if (open === null) return;
  throw new DomainError(
    'refused',
    'lens.return-open',
    `Return ${open.number} is open for this lens; write it off first.`,
  );
}

/** Whether the order's eye still waits for this order's lens: not once it has another, or the case went on without it. */
async function eyeWaits(work: Work, order: OrderRow): Promise<boolean> {
  const row = await loadCase(work, order.caseId);
  const ended = row.withdrawnAt !== null || row.closedAt !== null;
  const inEye = lensInEye(row) !== undefined && openExchangeOf(row) === undefined;
  const current =
    orderOfRound(row)?.id === order.id || (order.companionOf !== null && order.round === row.round);
  return !ended && !inEye && current;
}

/**
 * Keeps a lens that was just taken in for the eye that it was ordered for; where that eye has its lens already – of two
 * that were ordered beside each other the second can come after the operation – it stays on the shelf, free to go back.
 */
export async function reserveForEye(work: Work, lens: LensRow, order: OrderRow): Promise<void> {
  if (await eyeWaits(work, order)) await moveLens(work, lens, 'reserve', { caseId: order.caseId });
}

/** @throws DomainError `lens.nobody-waits` where `eyeWaits` says no. */
async function requireWaiting(work: Work, order: OrderRow): Promise<void> {
  if (await eyeWaits(work, order)) return;
  throw new DomainError(
    'refused',
    'lens.nobody-waits',
    `No eye waits for the lens of order ${order.number} any more: its case has ended, has its lens, or went on with another order.`,
  );
}

/** Everything about the lens must be what was signed, and it must stand in that clinic. */
async function requireSame(work: Work, lens: LensRow, order: OrderRow): Promise<void> {
  const wrong = await differencesFrom(work, lens, order);
  if (wrong.length === 0) return;
  throw new DomainError(
    'refused',
    'lens.not-for-order',
    `Lens ${lens.serial} is not what order ${order.number} asks for: ${wrong.join(', ')} differ${wrong.length === 1 ? 's' : ''}.`,
    { wrong },
  );
}

/** What of a lens is not what an order's specification says, in words. */
export async function differencesFrom(work: Work, lens: LensRow, order: OrderRow): Promise<string[]> {
  const came = await work.tx.lensOrder.findFirstOrThrow({ where: { id: lens.orderId } });
  const { designCode } = came.specification as unknown as Specification;
  return [
    ...(lens.clinicId === order.clinicId ? [] : ['clinic']),
    ...differencesOf({ lens: lens.lens, designCode, makerId: lens.makerId }, order),
  ];
}

async function requireLongEnough(
  work: Work,
  lens: LensRow,
  order: OrderRow,
  why: string | undefined,
): Promise<void> {
  const clinic = await work.tx.clinic.findUniqueOrThrow({ where: { id: order.clinicId } });
  const today = dayIn(clinic.timeZone, work.now);
  const expiresOn = fromDate(lens.expiresOn);
  if (expiresOn <= today)
    throw new DomainError('refused', 'lens.expired', `Lens ${lens.serial} has expired on ${expiresOn}.`, {
      expiresOn,
    });
  const tooShort = await shortExpiry(work, order.caseId, { expiresOn }, today);
  if (tooShort !== null && why === undefined)
    throw new DomainError(
      'refused',
      'lens.expires-early',
      `${tooShort} Say why it is taken all the same, or choose another.`,
      {},
      [{ pointer: '/why', message: 'Say why it is taken all the same.' }],
    );
}

/** Says whose a unit is: what decides whether it brings a credit when it goes back. */
export async function ownLens(work: Work, lensId: string, { version, owner, why }: OwnLens): Promise<void> {
  work.need('lens.own');
  const lens = await loadLensAt(work, lensId, version);
  if (lens.owner === owner)
    throw new DomainError('invalid', 'lens.owner-same', 'It is theirs already; choose another owner.', {}, [
      { pointer: '/owner', message: 'It is theirs already.' },
    ]);
  await requireNoReturn(work, lens);
  const { count } = await work.tx.lensUnit.updateMany({
    where: { clinicId: lens.clinicId, id: lens.id, version },
    data: { owner, version: version + 1 },
  });
  if (count === 0) await loadLensAt(work, lensId, version);
  work.record({
    clinicId: lens.clinicId,
    action: 'lens.own',
    caseId: lens.caseId,
    orderId: lens.orderId,
    lensId,
    facts: { serial: lens.serial, before: lens.owner, after: owner },
    why,
  });
}
