import { DEFAULT_VISIT_DAYS } from '@lensferry/calculation';
import type { CaseSummary, ListQuery, Waiting } from '@lensferry/contracts';
import { awaited, caseStages, type Awaited } from '@lensferry/domain';
import { fromDate, fromDateOrNull, plusDays } from '../platform/plain-date.js';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { namesOf } from '../people/people.queries.js';

export const caseAround = {
  patient: { include: { clinic: true } },
  orders: { orderBy: { openedAt: 'asc' } },
  exchanges: true,
  implantations: { orderBy: [{ performedOn: 'asc' }, { recordedAt: 'asc' }] },
} as const satisfies Prisma.EyeCaseInclude;
export type CaseListRow = Prisma.EyeCaseGetPayload<{ include: typeof caseAround }>;

/** Cases as lists show them: the stage, and what is waited for, by whom and until when. */
export async function describeCases(work: Work, rows: readonly CaseListRow[]): Promise<CaseSummary[]> {
  const names = await namesOf(
    work,
    rows.map(({ surgeonId }) => surgeonId),
  );
  const makers = new Map(
    (await work.tx.maker.findMany({ select: { id: true, name: true } })).map(({ id, name }) => [id, name]),
  );
  return rows.map((row) => ({
    id: row.id,
    code: row.code,
    codeName: row.patient.codeName,
    eye: row.eye,
    clinic: { id: row.clinicId, name: row.patient.clinic.name, timeZone: row.patient.clinic.timeZone },
    surgeon: { id: row.surgeonId, name: names.get(row.surgeonId) ?? '' },
    stage: row.stage,
    stageSince: row.stageSince.toISOString(),
    inExchange: row.exchanges.some(({ endedAt }) => endedAt === null),
    theatreOn: fromDateOrNull(row.theatreOn),
    openedAt: row.openedAt.toISOString(),
    version: row.version,
    waiting: waitingOf(row, names.get(row.surgeonId) ?? '', makers),
  }));
}

/** The day by which what is waited for should have happened, where there is one. */
function untilOf(row: CaseListRow, awaitedNow: Awaited): string | null {
  const order = row.orders.filter(({ round }) => round === row.round).at(-1);
  switch (awaitedNow) {
    case 'shipping':
      return fromDateOrNull(order?.promisedOn ?? null);
    case 'parcel':
      return fromDateOrNull(order?.expectedOn ?? order?.promisedOn ?? null);
    case 'surgery':
      return fromDateOrNull(row.theatreOn);
    case 'first-visit':
    case 'next-visit': {
      const inEye = row.implantations.find(({ explantedOn }) => explantedOn === null);
      return inEye === undefined
        ? null
        : plusDays(
            fromDate(inEye.performedOn),
            DEFAULT_VISIT_DAYS[awaitedNow === 'first-visit' ? 0 : 2] ?? 30,
          );
    }
    default:
      return fromDateOrNull(row.theatreOn);
  }
}

function waitingOf(row: CaseListRow, surgeonName: string, makers: Map<string, string>): Waiting {
  const awaitedNow = row.awaited as Awaited;
  const by = awaited[awaitedNow];
  const order = row.orders.filter(({ round }) => round === row.round).at(-1);
  const byName =
    by === 'surgeon' ? surgeonName : by === 'maker' ? (makers.get(order?.makerId ?? '') ?? null) : null;
  return {
    for: awaitedNow,
    by,
    byName,
    since: row.stageSince.toISOString(),
    until: untilOf(row, awaitedNow),
  };
}

export async function findCases(
  work: Work,
  where: Prisma.EyeCaseWhereInput,
  orderBy: Prisma.EyeCaseOrderByWithRelationInput[] = [{ stageSince: 'asc' }],
  page: { skip?: number; take?: number } = { take: 50 },
): Promise<CaseSummary[]> {
  const rows = await work.tx.eyeCase.findMany({
    where,
    include: caseAround,
    orderBy: [...orderBy, { id: 'asc' }],
    ...page,
  });
  return describeCases(work, rows);
}

/** A page of cases, those that moved last on top. */
export async function listCases(
  work: Work,
  query: ListQuery,
): Promise<{ items: CaseSummary[]; total: number }> {
  const asked = query.state?.split(',') ?? [];
  const stages = caseStages.filter((stage) => asked.includes(stage));
  const where: Prisma.EyeCaseWhereInput = {
    ...(stages.length === 0 ? {} : { stage: { in: stages } }),
    ...(asked.includes('exchange') ? { exchanges: { some: { endedAt: null } } } : {}),
    ...(query.clinicId === undefined ? {} : { clinicId: query.clinicId }),
    ...(query.q === undefined || query.q === ''
      ? {}
      : {
          OR: [
            { code: { contains: query.q, mode: 'insensitive' } },
            { patient: { codeName: { contains: query.q, mode: 'insensitive' } } },
          ],
        }),
  };
  const total = await work.tx.eyeCase.count({ where });
  const orderBy: Prisma.EyeCaseOrderByWithRelationInput[] =
    query.sort === 'code'
      ? [{ code: 'asc' }]
      : query.sort === 'due'
        ? [{ theatreOn: { sort: 'asc', nulls: 'last' } }]
        : [{ stageSince: 'desc' }];
  const items = await findCases(work, where, orderBy, {
    skip: (query.page - 1) * query.perPage,
    take: query.perPage,
  });
  return { items, total };
}
