import type { LensTransfer } from '@lensferry/contracts';
import { openTransfers } from '@lensferry/domain';
import { fromDate, plusDays, toDate } from '../platform/plain-date.js';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { differencesOf } from '../stock/unit-differences.js';
import { loadTransfer, stepsOfTransfer, type TransferRow } from './transfers.store.js';

const most = 200;
const endedSinceDays = 30;

/** What is under way between clinics, the longest waiting first, then what ended lately. */
export async function listTransfers(work: Work): Promise<LensTransfer[]> {
  const lately = toDate(plusDays(fromDate(work.now), -endedSinceDays));
  const find = (where: Prisma.LensTransferWhereInput, direction: 'asc' | 'desc') =>
    work.tx.lensTransfer.findMany({ where, orderBy: [{ stateSince: direction }, { id: 'asc' }], take: most });
  const open = await find({ state: { in: [...openTransfers] } }, 'asc');
  const ended = await find({ state: { notIn: [...openTransfers] }, stateSince: { gte: lately } }, 'desc');
  return describe(work, [...open, ...ended].slice(0, most));
}

export async function showTransfer(work: Work, id: string): Promise<LensTransfer> {
  const [described] = await describe(work, [await loadTransfer(work, id)]);
  return described as LensTransfer;
}

/** Transfers that the person's own clinics have to move, the longest waiting first. */
export async function transfersToMove(work: Work, mostShown: number): Promise<LensTransfer[]> {
  const rows = await work.tx.lensTransfer.findMany({
    where: { state: { in: [...openTransfers] } },
    orderBy: [{ stateSince: 'asc' }, { id: 'asc' }],
    take: most,
  });
  // An offer to nobody in particular is news only for who has an order that it fits.
  return (await describe(work, rows))
    .filter(({ state, steps, fits }) =>
      state === 'offered' ? fits.length > 0 : steps.some((step) => step !== 'lose' && step !== 'withdraw'),
    )
    .slice(0, mostShown);
}

/** Offers that are exactly what an order asks for. */
export async function offersFor(work: Work, orderId: string): Promise<LensTransfer[]> {
  const rows = await work.tx.lensTransfer.findMany({
    where: { state: { in: ['offered', 'accepted', 'sent'] } },
    orderBy: [{ expiresOn: 'asc' }, { id: 'asc' }],
    take: most,
  });
  return (await describe(work, rows)).filter(
    ({ fits, order }) => order?.id === orderId || fits.some(({ id }) => id === orderId),
  );
}

async function describe(work: Work, rows: readonly TransferRow[]): Promise<LensTransfer[]> {
  if (rows.length === 0) return [];
  const { tx, actor } = work;
  const mine = (clinicId: string | null): boolean => clinicId !== null && actor.clinicIds.includes(clinicId);
  const clinics = new Map((await tx.clinic.findMany()).map(({ id, name }) => [id, { id, name }]));
  const makers = new Map((await tx.maker.findMany()).map(({ id, name }) => [id, { id, name }]));
  const taken = await tx.lensOrder.findMany({
    where: { id: { in: rows.flatMap(({ orderId }) => orderId ?? []) } },
    select: { id: true, number: true },
  });
  const signed = await signedOrders(work, rows);
  const nobody = { id: '', name: '' };
  return rows.map((row) => ({
    id: row.id,
    serial: row.serial,
    lot: row.lot,
    expiresOn: fromDate(row.expiresOn),
    maker: makers.get(row.makerId) ?? nobody,
    designCode: row.designCode,
    lens: row.lens as LensTransfer['lens'],
    madeUnder: row.madeUnder,
    from: clinics.get(row.fromClinicId) ?? nobody,
    to: row.toClinicId === null ? null : (clinics.get(row.toClinicId) ?? nobody),
    state: row.state,
    stateSince: row.stateSince.toISOString(),
    offeredAt: row.offeredAt.toISOString(),
    tracking: row.tracking,
    note: row.note,
    lensId: mine(row.fromClinicId) ? row.lensId : null,
    order: taken.find(({ id }) => id === row.orderId) ?? null,
    arrivedLensId: mine(row.toClinicId) ? row.arrivedLensId : null,
    fits:
      row.state !== 'offered'
        ? []
        : signed
            .filter(
              (order) =>
                order.clinicId !== row.fromClinicId &&
                (row.toClinicId === null || row.toClinicId === order.clinicId) &&
                differencesOf({ lens: row.lens, designCode: row.designCode, makerId: row.makerId }, order)
                  .length === 0,
            )
            .map(({ id, number, clinicId }) => ({
              id,
              number,
              clinicName: clinics.get(clinicId)?.name ?? '',
            })),
    version: row.version,
    steps: stepsOfTransfer(work, row),
  }));
}

/** Orders of one's own clinics that are signed and not placed, with the makers that units are offered of. */
async function signedOrders({ tx }: Work, rows: readonly TransferRow[]) {
  const makerIds = rows.filter(({ state }) => state === 'offered').map(({ makerId }) => makerId);
  if (makerIds.length === 0) return [];
  return tx.lensOrder.findMany({
    where: { state: 'approved', makerId: { in: [...new Set(makerIds)] } },
    select: { id: true, number: true, clinicId: true, makerId: true, specification: true },
    take: most,
  });
}
