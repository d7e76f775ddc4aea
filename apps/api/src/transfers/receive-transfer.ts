import type { ReceiveTransfer } from '@lensferry/contracts';
import { DomainError, eyeInCapitals, type Eye } from '@lensferry/domain';
import { v7 as uuid } from 'uuid';
import { refreshStage } from '../cases/refresh-stage.js';
import { loadOrder, takeStep } from '../orders/orders.store.js';
import { dayIn, fromDate } from '../platform/plain-date.js';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { labelWords, readEntry, type Found } from '../receiving/read-arrival.js';
import { reserveForEye } from '../stock/keep-for-case.js';
import { requireFor } from './move-transfer.js';
import { loadTransferAt, moveTransfer, type TransferRow } from './transfers.store.js';

/**
 * Takes a unit of another clinic in: its pack is read whole and compared with what was offered, tolerant of nothing; it
 * is then on record here and reserved for the order that it was taken up for. What differs, or is damaged, is refused.
 * @throws DomainError `arrival.incomplete`, `transfer.other-pack`, `arrival.expired`, `transfer.order-not-open`.
 */
export async function receiveTransfer(work: Work, id: string, input: ReceiveTransfer): Promise<string> {
  const row = await loadTransferAt(work, id, input.version);
  const order = await loadOrder(work, row.orderId ?? '');
  const clinic = await work.tx.clinic.findUniqueOrThrow({ where: { id: order.clinicId } });
  const from = await work.tx.clinic.findUniqueOrThrow({ where: { id: row.fromClinicId } });
  const today = dayIn(clinic.timeZone, work.now);
  requireSamePack(row, readEntry(input.label, today).found);
  if (fromDate(row.expiresOn) <= today)
    throw new DomainError('refused', 'arrival.expired', 'The lens has expired; it can only be refused.', {
      expiresOn: fromDate(row.expiresOn),
    });
  await requireFor(work, row, order);
  const lensId = uuid();
  await moveTransfer(work, row, 'receive', {
    data: { arrivedLensId: lensId },
    facts: { number: order.number },
  });
  const lens = await work.tx.lensUnit.create({
    data: {
      clinicId: order.clinicId,
      id: lensId,
      makerId: row.makerId,
      serial: row.serial,
      lot: row.lot,
      gtin: row.gtin,
      expiresOn: row.expiresOn,
      lens: row.lens as Prisma.InputJsonObject,
      labelText: input.label.text,
      orderId: order.id,
      madeUnder: row.madeUnder,
      caseId: null,
      state: 'in_stock',
      stateSince: work.now,
      location: input.location,
      receivedAt: work.now,
      receivedBy: work.personId,
      owner: 'clinic',
    },
  });
  const why = `From ${from.name}; made under ${row.madeUnder}.`;
  work.record({
    clinicId: order.clinicId,
    action: 'lens.receive',
    caseId: order.caseId,
    orderId: order.id,
    lensId,
    facts: { serial: row.serial, after: lens.state, location: lens.location, transfer: row.id },
    why,
  });
  await reserveForEye(work, lens, order);
  await takeStep(work, order, 'fill', {
    data: { placedAt: work.now, endedAt: work.now, price: 0, note: why },
    facts: { serial: row.serial, cameFrom: from.name, madeUnder: row.madeUnder },
  });
  await refreshStage(work, order.caseId);
  return lensId;
}

/** Everything that stands on the pack but the case code, which is still the giver's, must be what was offered. */
function requireSamePack(row: TransferRow, found: Found): void {
  const lens = row.lens as Record<string, string | number | null>;
  const expected: Found = {
    serial: row.serial,
    expiresOn: fromDate(row.expiresOn),
    eye: eyeInCapitals[lens['eye'] as Eye],
    sphereD: lens['sphereD'] ?? null,
    cylinderD: lens['cylinderD'] ?? null,
    ...(lens['cylinderD'] === 0 ? {} : { axisDeg: lens['axisDeg'] ?? null }),
    lengthMm: lens['lengthMm'] ?? null,
  };
  const inWords = (fields: readonly string[]) => fields.map((field) => labelWords[field] ?? field).join(', ');
  const missing = Object.keys(expected).filter((field) => found[field] === undefined);
  if (missing.length > 0)
    throw new DomainError(
      'invalid',
      'arrival.incomplete',
      `Read ${inWords(missing)} off the pack before accepting it.`,
      { missing },
      missing.map((field) => ({ pointer: `/label/${field}`, message: 'Read it off the pack.' })),
    );
  const wrong = Object.keys(expected).filter((field) => found[field] !== expected[field]);
  if (wrong.length > 0)
    throw new DomainError(
      'refused',
      'transfer.other-pack',
      `The pack is not what was offered: ${inWords(wrong)} differ${wrong.length === 1 ? 's' : ''}. Refuse it and say so.`,
      { wrong },
    );
}
