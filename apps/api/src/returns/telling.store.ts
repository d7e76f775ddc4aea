import type { Telling } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { loadReturnAt, type ReturnRow } from './returns.store.js';
import { returnMoved } from './returns.errors.js';

/** Nothing is being asked of a return's maker, or it is on its way. */
export const nothingTold = Prisma.DbNull;

/** How a return's maker is told that it is coming: by hand somebody has to, else the dispatch does. */
export const tellingOfNew = (channel: string, now: Date): Prisma.InputJsonObject | undefined =>
  channel === 'by_hand' ? { ...toldBy('by_hand', now, null, null) } : undefined;

/** How telling the maker stands; null while it is on its way, and once the maker has answered. */
export function tellingOf(row: Pick<ReturnRow, 'telling'>): Telling | null {
  return row.telling as unknown as Telling | null;
}

/** Writes down that a return's request reached its maker, or that it finally did not. */
export async function settleReturn(
  { tx, now }: Work,
  returnId: string,
  { sent, outcome }: { sent: boolean; outcome: string },
): Promise<void> {
  const telling = toldBy(sent ? 'told' : 'failed', now, sent ? null : outcome, null);
  await tx.lensReturn.updateMany({
    where: { id: returnId, state: 'requested' },
    data: { telling: { ...telling } },
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
  await write(work, row, nothingTold, 'return.tell-again', null);
  work.emit(row.clinicId, 'return.send', { returnId });
}

/** A person says that the maker has been told of a return, and how. @throws DomainError `return.nothing-to-tell`. */
export async function markReturnTold(
  work: Work,
  returnId: string,
  { version, how }: { version: number; how: string },
): Promise<void> {
  const row = await untold(work, returnId, version);
  const telling = toldBy('told', work.now, how, work.actor.name);
  await write(work, row, { ...telling }, 'return.told', how);
}

const toldBy = (state: Telling['state'], now: Date, why: string | null, by: string | null): Telling => ({
  ...{ state, at: now.toISOString(), why, by },
});

async function untold(work: Work, returnId: string, version: number): Promise<ReturnRow> {
  work.need('lens.return');
  const row = await loadReturnAt(work, returnId, version);
  const telling = tellingOf(row);
  if (row.state === 'requested' && telling !== null && telling.state !== 'told') return row;
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
  telling: Prisma.InputJsonObject | typeof Prisma.DbNull,
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
