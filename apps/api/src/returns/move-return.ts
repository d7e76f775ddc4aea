import { DomainError, nextState, returnLifecycle, type ReturnEvent } from '@lensferry/domain';
import type { Prisma } from '../platform/prisma-client/client.js';
import { onItsWay } from '../platform/telling.js';
import type { Work } from '../platform/work.js';
import { moveLens } from '../stock/move-lens.js';
import { returnMoved } from './returns.errors.js';
import { loadReturnAt, type ReturnRow } from './returns.store.js';

interface Seen {
  readonly version: number;
}

export async function authoriseReturn(
  work: Work,
  returnId: string,
  input: Seen & { authorisation: string },
): Promise<void> {
  const row = await loadReturnAt(work, returnId, input.version);
  await step(
    work,
    row,
    'authorise',
    { authorisation: input.authorisation, note: null },
    { authorisation: input.authorisation },
  );
}

/** The parcel has left the clinic; from here on the lens is on its way back. */
export async function handOverReturn(
  work: Work,
  returnId: string,
  input: Seen & { tracking: string },
): Promise<void> {
  const row = await loadReturnAt(work, returnId, input.version);
  await step(work, row, 'hand-over', { tracking: input.tracking }, { tracking: input.tracking });
  await moveLens(work, row.lens, 'send-back', { location: `on the way to its maker, ${input.tracking}` });
}

export async function receiveReturn(work: Work, returnId: string, input: Seen): Promise<void> {
  const row = await loadReturnAt(work, returnId, input.version);
  await step(work, row, 'receive', {}, {});
  await moveLens(work, row.lens, 'arrive-at-maker', { location: 'at its maker' });
}

/** Books the maker's credit. Another currency than the order's is refused; another amount is kept and shown. */
export async function creditReturn(
  work: Work,
  returnId: string,
  input: Seen & { amount: string; currency?: string },
): Promise<void> {
  const row = await loadReturnAt(work, returnId, input.version);
  if (input.currency !== undefined && input.currency !== row.currency)
    throw new DomainError(
      'refused',
      'return.currency',
      `This return is in ${row.currency}, not ${input.currency}.`,
    );
  const expected = row.creditExpected.toFixed(2);
  const got = Number(input.amount).toFixed(2);
  const note = got === expected ? null : `The credit is ${got} ${row.currency}; ${expected} was expected.`;
  await step(work, row, 'credit', { creditGot: got, note }, { expected, got });
  await moveLens(work, row.lens, 'credit', {});
}

/** Gives a return up, with the reason; the lens stays where it is on record. */
export async function writeOffReturn(
  work: Work,
  returnId: string,
  input: Seen & { why: string },
): Promise<void> {
  const row = await loadReturnAt(work, returnId, input.version);
  await step(work, row, 'write-off', { note: input.why }, {}, input.why);
}

async function step(
  work: Work,
  row: ReturnRow,
  event: ReturnEvent,
  data: Prisma.LensReturnUncheckedUpdateManyInput,
  facts: Record<string, unknown>,
  why: string | null = null,
): Promise<void> {
  const state = nextState(returnLifecycle, row.state, event, work.actor.kind);
  const { count } = await work.tx.lensReturn.updateMany({
    where: { clinicId: row.clinicId, id: row.id, state: row.state, version: row.version },
    // Whatever is heard or done next answers the question that the maker was asked.
    data: { ...data, telling: onItsWay, state, stateSince: work.now, version: row.version + 1 },
  });
  if (count === 0) throw returnMoved(await work.tx.lensReturn.findFirstOrThrow({ where: { id: row.id } }));
  work.record({
    clinicId: row.clinicId,
    action: `return.${event}`,
    caseId: row.lens.caseId,
    orderId: row.lens.orderId,
    lensId: row.lensId,
    facts: { number: row.number, before: row.state, after: state, ...facts },
    why,
  });
}
