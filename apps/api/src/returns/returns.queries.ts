import type { ListQuery, ReturnSummary } from '@lensferry/contracts';
import { returnLifecycle, returnStates, stepsFrom } from '@lensferry/domain';
import { fromDate } from '../platform/plain-date.js';
import type { Prisma } from '../platform/prisma-client/client.js';
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
  page: { skip?: number; take?: number } = { take: 200 },
): Promise<ReturnSummary[]> {
  const makers = new Map((await tx.maker.findMany()).map((maker) => [maker.id, maker]));
  const rows = await tx.lensReturn.findMany({
    where,
    include: around,
    orderBy: [{ windowClosesOn: 'asc' }, { id: 'asc' }],
    ...page,
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

/** A page of returns, the window that closes first on top. */
export async function listReturns(
  work: Work,
  query: ListQuery,
): Promise<{ items: ReturnSummary[]; total: number }> {
  const states = returnStates.filter((state) => query.state?.split(',').includes(state));
  const where: Prisma.LensReturnWhereInput = {
    ...(states.length === 0 ? {} : { state: { in: states } }),
    ...(query.clinicId === undefined ? {} : { clinicId: query.clinicId }),
    ...(query.makerId === undefined ? {} : { makerId: query.makerId }),
    ...(query.q === undefined || query.q === ''
      ? {}
      : {
          OR: [
            { number: { contains: query.q, mode: 'insensitive' } },
            { lens: { serial: { contains: query.q, mode: 'insensitive' } } },
          ],
        }),
  };
  const total = await work.tx.lensReturn.count({ where });
  const items = await findReturns(work, where, {
    skip: (query.page - 1) * query.perPage,
    take: query.perPage,
  });
  return { items, total };
}
