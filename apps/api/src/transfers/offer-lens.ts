import type { OfferLens } from '@lensferry/contracts';
import { DomainError, openTransfers, type Specification } from '@lensferry/domain';
import { v7 as uuid } from 'uuid';
import { loadOrder } from '../orders/orders.store.js';
import { dayIn, fromDate } from '../platform/plain-date.js';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { loadLensAt, unreadOf, type LensRow } from '../stock/move-lens.js';

/**
 * Offers a free unit to another clinic, or to whoever of the network needs it. It stays on the shelf, but nobody can
 * use it otherwise until the offer is withdrawn.
 * @throws DomainError `transfer.not-free`, `transfer.same-clinic`, `lens.return-open`.
 */
export async function offerLens(work: Work, lensId: string, input: OfferLens): Promise<string> {
  work.need('lens.transfer');
  const lens = await loadLensAt(work, lensId, input.version);
  await requireFree(work, lens);
  if (input.toClinicId !== undefined) await requireOther(work, lens, input.toClinicId);
  const order = await loadOrder(work, lens.orderId);
  const id = uuid();
  await work.tx.lensTransfer.create({
    data: {
      fromClinicId: lens.clinicId,
      id,
      lensId,
      toClinicId: input.toClinicId ?? null,
      makerId: lens.makerId,
      serial: lens.serial,
      lot: lens.lot,
      gtin: lens.gtin,
      expiresOn: lens.expiresOn,
      designCode: (order.specification as unknown as Specification).designCode,
      madeUnder: lens.madeUnder ?? order.number,
      lens: lens.lens as Prisma.InputJsonObject,
      state: 'offered',
      stateSince: work.now,
      note: input.why,
      offeredAt: work.now,
    },
  });
  work.record({
    clinicId: lens.clinicId,
    action: 'transfer.offer',
    lensId,
    facts: { serial: lens.serial, toClinicId: input.toClinicId ?? null },
    why: input.why,
  });
  return id;
}

async function requireFree(work: Work, lens: LensRow): Promise<void> {
  const clinic = await work.tx.clinic.findUniqueOrThrow({ where: { id: lens.clinicId } });
  const open = await openTransferOf(work, lens);
  const returning = await work.tx.lensReturn.findFirst({
    where: { lensId: lens.id, state: { not: 'written_off' } },
  });
  const why =
    lens.state !== 'in_stock'
      ? `it is ${lens.state.replaceAll('_', ' ')}`
      : lens.damaged
        ? 'its pack came damaged'
        : unreadOf(lens.lens).length > 0
          ? 'its pack was not read whole'
          : fromDate(lens.expiresOn) <= dayIn(clinic.timeZone, work.now)
            ? 'it has expired'
            : lens.owner !== 'clinic'
              ? 'it is not the clinic’s own'
              : returning !== null
                ? `return ${returning.number} is open for it`
                : open !== null
                  ? 'it is offered already'
                  : null;
  if (why === null) return;
  throw new DomainError(
    'refused',
    'transfer.not-free',
    `Lens ${lens.serial} can’t be offered to another clinic: ${why}.`,
    { serial: lens.serial, why },
  );
}

async function requireOther({ tx }: Work, lens: LensRow, toClinicId: string): Promise<void> {
  const clinic = await tx.clinic.findUnique({ where: { id: toClinicId } });
  if (clinic !== null && toClinicId !== lens.clinicId) return;
  throw new DomainError('invalid', 'transfer.same-clinic', 'Choose another clinic of the network.', {}, [
    { pointer: '/toClinicId', message: 'Choose another clinic of the network.' },
  ]);
}

/** The transfer that holds a unit; null where none does. */
export function openTransferOf({ tx }: Work, lens: Pick<LensRow, 'clinicId' | 'id'>) {
  return tx.lensTransfer.findFirst({
    where: { fromClinicId: lens.clinicId, lensId: lens.id, state: { in: [...openTransfers] } },
  });
}
