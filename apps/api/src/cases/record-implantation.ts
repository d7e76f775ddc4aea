import type { RecordImplantation } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import { v7 as uuid } from 'uuid';
import { dayIn, fromDate, toDate } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import { loadLens, moveLens, type LensRow } from '../stock/move-lens.js';
import { lensInEye, loadCaseAt, openExchangeOf, updateCase, type CaseRow } from './cases.store.js';
import { refreshStage } from './refresh-stage.js';

/**
 * Records that a lens went into the eye. Only a lens that was accepted, has not expired, and is reserved for this
 * case and this eye; its serial is read off the pack once more. In an exchange the first lens comes out in the same
 * operation and is kept for its way back.
 * @throws DomainError `implant.…` saying which of these does not hold.
 */
export async function recordImplantation(
  work: Work,
  caseId: string,
  input: RecordImplantation,
): Promise<void> {
  work.need('case.implant');
  // The lens before the case: whoever comes second then finds the case moved, never the lens half gone.
  const lens = await loadLens(work, input.lensId);
  const row = await loadCaseAt(work, caseId, input.version);
  const clinic = await work.tx.clinic.findUniqueOrThrow({ where: { id: row.clinicId } });
  requireFit(row, lens, input, dayIn(clinic.timeZone, work.now));
  const exchange = openExchangeOf(row);
  const before = lensInEye(row);
  if (before !== undefined && exchange === undefined)
    throw new DomainError(
      'conflict',
      'implant.lens-in-eye',
      `Lens ${before.lens.serial} is in this eye; open an exchange first.`,
    );
  if (before !== undefined && exchange !== undefined) {
    if (input.performedOn < fromDate(before.performedOn))
      throw new DomainError(
        'invalid',
        'implant.before-first',
        'The exchange can’t be before the first operation.',
        {},
        [{ pointer: '/performedOn', message: 'This is before the first operation.' }],
      );
    await work.tx.implantation.update({
      where: { clinicId_id: { clinicId: row.clinicId, id: before.id } },
      data: { explantedOn: toDate(input.performedOn), explantWhy: exchange.reason },
    });
    await moveLens(
      work,
      await loadLens(work, before.lensId),
      'explant',
      { location: 'theatre, to go back' },
      exchange.reason,
    );
    await work.tx.exchange.update({
      where: { clinicId_id: { clinicId: row.clinicId, id: exchange.id } },
      data: { endedAt: work.now, endedWhy: `Replaced by lens ${lens.serial}.` },
    });
  }
  await moveLens(work, lens, 'implant', { location: 'in the eye' });
  await work.tx.implantation.create({
    data: {
      clinicId: row.clinicId,
      id: uuid(),
      caseId,
      lensId: lens.id,
      surgeonId: row.surgeonId,
      performedOn: toDate(input.performedOn),
      axisDeg: input.axisDeg,
      recordedAt: work.now,
    },
  });
  await freeCompanion(work, caseId);
  await updateCase(work, row, { theatreOn: null });
  work.record({
    clinicId: row.clinicId,
    action: 'case.implant',
    caseId,
    lensId: lens.id,
    facts: {
      serial: lens.serial,
      performedOn: input.performedOn,
      axisDeg: input.axisDeg,
      explanted: before?.lens.serial ?? null,
    },
  });
  await refreshStage(work, caseId);
}

/** Of two lenses ordered beside each other the one that stayed in its pack goes back: it is nobody's any more. */
async function freeCompanion(work: Work, caseId: string): Promise<void> {
  const others = await work.tx.lensUnit.findMany({ where: { caseId, state: 'reserved' } });
  for (const other of others)
    await moveLens(work, other, 'unreserve', {}, 'The lens that was ordered beside it is in the eye.');
}

function requireFit(row: CaseRow, lens: LensRow, input: RecordImplantation, today: string): void {
  const refuse = (code: string, message: string, pointer = '/lensId'): never => {
    // The serial is left out: whoever reads it here need not look at the pack.
    throw new DomainError('refused', `implant.${code}`, message, { state: lens.state }, [
      { pointer, message },
    ]);
  };
  if (row.withdrawnAt !== null || row.closedAt !== null) refuse('case-ended', 'This case has ended.');
  if (lens.state !== 'reserved')
    refuse(
      'not-reserved',
      `Lens ${lens.serial} is ${lens.state.replaceAll('_', ' ')}; only an accepted lens that is reserved for this case can be implanted.`,
    );
  if (lens.caseId !== row.id) refuse('other-case', `Lens ${lens.serial} is reserved for another case.`);
  if ((lens.lens as { eye: string }).eye !== row.eye)
    refuse('other-eye', `Lens ${lens.serial} was made for the other eye.`);
  if (input.serial !== lens.serial)
    refuse(
      'other-serial',
      `The pack says ${input.serial}, which is not the lens reserved for this case. Stop and compare.`,
      '/serial',
    );
  if (input.performedOn > today) refuse('future', 'The operation can’t be in the future.', '/performedOn');
  if (input.performedOn < fromDate(lens.receivedAt))
    refuse('before-arrival', 'The operation can’t be before the lens arrived.', '/performedOn');
  if (fromDate(lens.expiresOn) < input.performedOn)
    refuse('expired', `Lens ${lens.serial} had expired by then.`);
}
