import type { ListQuery, ReturnPage, ReturnSummary } from '@lensferry/contracts';
import { returnLifecycle, returnStates, stepsFrom } from '@lensferry/domain';
import type { z } from 'zod';
import { cutPage, holds, inOrderOf, type Ordering } from '../platform/keyset.js';
import { fromDate } from '../platform/plain-date.js';
import { Prisma } from '../platform/prisma-client/client.js';
import { tellingOf } from '../platform/telling.js';
import type { Work } from '../platform/work.js';
import { returnMissing } from './returns.errors.js';

const around = {
  lens: {
    include: { order: { include: { eyeCase: { include: { patient: { include: { clinic: true } } } } } } },
  },
} as const satisfies Prisma.LensReturnInclude;

export async function findReturns(
  { tx, actor }: Work,
  where: Prisma.LensReturnWhereInput,
): Promise<ReturnSummary[]> {
  const makers = new Map((await tx.maker.findMany()).map((maker) => [maker.id, maker]));
  const rows = await tx.lensReturn.findMany({
    where,
    include: around,
    orderBy: [{ windowClosesOn: 'asc' }, { id: 'asc' }],
    take: 200,
  });
  return rows.map((row) => {
    const { eyeCase } = row.lens.order;
    const { clinic } = eyeCase.patient;
    const maker = makers.get(row.makerId);
    return {
      id: row.id,
      number: row.number,
      state: row.state,
      stateSince: row.stateSince.toISOString(),
      version: row.version,
      reason: row.reason,
      windowClosesOn: fromDate(row.windowClosesOn),
      authorisation: row.authorisation,
      tracking: row.tracking,
      creditExpected: row.creditExpected.toFixed(2),
      creditGot: row.creditGot?.toFixed(2) ?? null,
      currency: row.currency,
      note: row.note,
      telling: tellingOf(row),
      openedAt: row.openedAt.toISOString(),
      maker: { id: row.makerId, name: maker?.name ?? '', channel: maker?.channel ?? 'by_hand' },
      clinic: { id: clinic.id, name: clinic.name, timeZone: clinic.timeZone },
      lens: { id: row.lensId, serial: row.lens.serial },
      case: { id: eyeCase.id, code: eyeCase.code, codeName: eyeCase.patient.codeName, eye: eyeCase.eye },
      steps: stepsFrom(returnLifecycle, row.state, actor.kind).map(({ event }) => event),
    };
  });
}

export async function showReturn(work: Work, returnId: string): Promise<ReturnSummary> {
  const [row] = await findReturns(work, { id: returnId });
  if (row === undefined) throw returnMissing();
  return row;
}

const orderings: Record<ListQuery['sort'], Ordering> = {
  recent: { name: 'recent', column: 'opened_at', kind: 'instant', descending: true },
  due: { name: 'due', column: 'window_closes_on', kind: 'day' },
  code: { name: 'code', column: 'number', kind: 'text' },
};

/** A page of returns: opened last on top, or the window that closes first. */
export async function listReturns(work: Work, query: ListQuery): Promise<z.infer<typeof ReturnPage>> {
  const asked = returnStates.filter((state) => query.state?.split(',').includes(state));
  const where: Prisma.Sql[] = [];
  if (query.makerId !== undefined) where.push(Prisma.sql`r.maker_id = ${query.makerId}::uuid`);
  if (query.q !== undefined && query.q !== '')
    where.push(Prisma.sql`(${holds('r.number', query.q)} or r.lens_id in (
      select l.id from lens_unit l where ${holds('l.serial', query.q)}))`);
  const { keys, ...page } = await cutPage(
    work,
    {
      table: 'lens_return',
      states: { column: 'state', type: '"ReturnState"', values: asked.length === 0 ? returnStates : asked },
      where,
    },
    orderings[query.sort],
    query,
  );
  return { items: inOrderOf(keys, await findReturns(work, { id: { in: keys.flat() } })), ...page };
}
