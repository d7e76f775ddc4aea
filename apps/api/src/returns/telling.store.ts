import { DomainError } from '@lensferry/domain';
import { isUntold, onItsWay, tellingSettled, toldByPerson, type KeptTelling } from '../platform/telling.js';
import type { Work } from '../platform/work.js';
import { loadReturnAt, type ReturnRow } from './returns.store.js';
import { returnMoved } from './returns.errors.js';

/** Writes down that a return's request reached its maker, or that it finally did not. */
export async function settleReturn(
  work: Work,
  returnId: string,
  attempt: { sent: boolean; outcome: string },
): Promise<void> {
  await work.tx.lensReturn.updateMany({
    where: { id: returnId, state: 'requested' },
    data: { telling: tellingSettled(work, attempt) },
  });
}

/** Sends a return's request once more that did not reach its maker, with the same key. @throws DomainError `return.nothing-to-tell`, `return.told-by-hand`. */
export async function tellReturnAgain(
  work: Work,
  returnId: string,
  { version }: { version: number },
): Promise<void> {
  const row = await untold(work, returnId, version);
  const maker = await work.tx.maker.findUniqueOrThrow({ where: { id: row.makerId } });
  if (maker.channel === 'by_hand')
    throw new DomainError(
      'refused',
      'return.told-by-hand',
      `${maker.name} takes no messages: tell it of the return and say so, or change its channel first.`,
    );
  await write(work, row, onItsWay, 'return.tell-again', null);
  work.emit(row.clinicId, 'return.send', { returnId });
}

/** A person says that the maker has been told of a return, and how. @throws DomainError `return.nothing-to-tell`. */
export async function markReturnTold(
  work: Work,
  returnId: string,
  { version, how }: { version: number; how: string },
): Promise<void> {
  const row = await untold(work, returnId, version);
  await write(work, row, toldByPerson(work, how), 'return.told', how);
}

async function untold(work: Work, returnId: string, version: number): Promise<ReturnRow> {
  work.need('lens.return');
  const row = await loadReturnAt(work, returnId, version);
  if (row.state === 'requested' && isUntold(row)) return row;
  throw new DomainError(
    'conflict',
    'return.nothing-to-tell',
    'Nothing waits to be told to this return’s maker: it was told, is being told, or has answered.',
    { state: row.state },
  );
}

async function write(
  work: Work,
  row: ReturnRow,
  telling: KeptTelling,
  action: string,
  why: string | null,
): Promise<void> {
  const { count } = await work.tx.lensReturn.updateMany({
    where: { clinicId: row.clinicId, id: row.id, version: row.version },
    data: { telling, version: row.version + 1 },
  });
  if (count === 0) throw returnMoved(await work.tx.lensReturn.findFirstOrThrow({ where: { id: row.id } }));
  work.record({
    clinicId: row.clinicId,
    action,
    caseId: row.lens.caseId,
    orderId: row.lens.orderId,
    lensId: row.lensId,
    facts: { number: row.number },
    why,
  });
}
