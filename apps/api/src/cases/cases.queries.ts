import type { CasePage, CaseSummary, ListQuery, Waiting } from '@lensferry/contracts';
import { awaited, caseStages, type Awaited } from '@lensferry/domain';
import type { z } from 'zod';
import { makersById } from '../makers/makers.store.js';
import { casesThatHold, cutPage, inOrderOf, type Ordering } from '../platform/keyset.js';
import { padded } from '../platform/padded.js';
import { fromDate, fromDateOrNull, plusDays } from '../platform/plain-date.js';
import { Prisma } from '../platform/prisma-client/client.js';
import { networkSettings, type NetworkSettings } from '../platform/settings-of-network.js';
import type { Work } from '../platform/work.js';
import { namesOf } from '../people/people.queries.js';

export const caseAround = {
  patient: { include: { clinic: true } },
  orders: { orderBy: { openedAt: 'asc' } },
  exchanges: true,
  implantations: { orderBy: [{ performedOn: 'asc' }, { recordedAt: 'asc' }] },
} as const satisfies Prisma.EyeCaseInclude;
export type CaseListRow = Prisma.EyeCaseGetPayload<{ include: typeof caseAround }>;

/** What whoever describes cases may have read already. */
interface KnownOfCases {
  readonly names: ReadonlyMap<string, string>;
  readonly makers: ReadonlyMap<string, { readonly name: string }>;
  readonly settings: Pick<NetworkSettings, 'visitDays'>;
}

/** Cases as lists show them: the stage, and what is waited for, by whom and until when. */
export async function describeCases(
  work: Work,
  rows: readonly CaseListRow[],
  known?: KnownOfCases,
): Promise<CaseSummary[]> {
  const names =
    known?.names ??
    (await namesOf(
      work,
      rows.map(({ surgeonId }) => surgeonId),
    ));
  const makers = known?.makers ?? (await makersById(work));
  const awaitsVisit = rows.some(({ awaited: now }) => visits.has(now));
  const visitDays = awaitsVisit ? (known?.settings ?? (await networkSettings(work))).visitDays : [];
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
    waiting: waitingOf(row, names.get(row.surgeonId) ?? '', makers, visitDays),
  }));
}

const visits: ReadonlySet<string> = new Set<Awaited>(['first-visit', 'next-visit']);
/** Refraction has settled by about then, so a second visit is asked for from that day on (common practice, no source). */
const SETTLED_DAY = 28;

/** The day of the network's schedule: its first visit, or the first by which refraction has settled. */
function visitDayOf(awaitedNow: Awaited, visitDays: readonly number[]): number {
  const first = visitDays[0] ?? 0;
  if (awaitedNow === 'first-visit') return first;
  return visitDays.find((day) => day >= SETTLED_DAY) ?? visitDays.at(-1) ?? first;
}

/** The day by which what is waited for should have happened, where there is one. */
function untilOf(row: CaseListRow, awaitedNow: Awaited, visitDays: readonly number[]): string | null {
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
        : plusDays(fromDate(inEye.performedOn), visitDayOf(awaitedNow, visitDays));
    }
    default:
      return fromDateOrNull(row.theatreOn);
  }
}

function waitingOf(
  row: CaseListRow,
  surgeonName: string,
  makers: KnownOfCases['makers'],
  visitDays: readonly number[],
): Waiting {
  const awaitedNow = row.awaited as Awaited;
  const by = awaited[awaitedNow];
  const order = row.orders.filter(({ round }) => round === row.round).at(-1);
  const byName =
    by === 'surgeon' ? surgeonName : by === 'maker' ? (makers.get(order?.makerId ?? '')?.name ?? null) : null;
  return {
    for: awaitedNow,
    by,
    byName,
    since: row.stageSince.toISOString(),
    until: untilOf(row, awaitedNow, visitDays),
  };
}

export async function findCases(
  work: Work,
  where: Prisma.EyeCaseWhereInput,
  orderBy: Prisma.EyeCaseOrderByWithRelationInput[] = [{ stageSince: 'asc' }],
  take = 50,
): Promise<CaseSummary[]> {
  // Which first, then what belongs to them: asked for at once it would be gathered of all that fit, before the cut.
  const found = await work.tx.eyeCase.findMany({
    where,
    select: { id: true },
    orderBy: [...orderBy, { id: 'asc' }],
    take,
  });
  const ids = found.map(({ id }) => id);
  if (ids.length === 0) return [];
  const rows = await work.tx.eyeCase.findMany({ where: { id: { in: padded(ids) } }, include: caseAround });
  return describeCases(
    work,
    inOrderOf(
      ids.map((id) => [id]),
      rows,
    ),
  );
}

const orderings: Record<ListQuery['sort'], Ordering> = {
  recent: { name: 'recent', column: 'stage_since', kind: 'instant', descending: true },
  due: { name: 'due', column: 'theatre_on', kind: 'day', optional: true },
  code: { name: 'code', column: 'code', kind: 'text' },
};

/** A page of cases, those that moved last on top. */
export async function listCases(work: Work, query: ListQuery): Promise<z.infer<typeof CasePage>> {
  const asked = query.state?.split(',') ?? [];
  const stages = caseStages.filter((stage) => asked.includes(stage));
  const where: Prisma.Sql[] = [];
  if (asked.includes('exchange'))
    where.push(
      Prisma.sql`exists (select from exchange e
        where e.clinic_id = r.clinic_id and e.case_id = r.id and e.ended_at is null)`,
    );
  if (query.q !== undefined && query.q !== '') where.push(Prisma.sql`r.id in (${casesThatHold(query.q)})`);
  const { keys, ...page } = await cutPage(
    work,
    {
      table: 'eye_case',
      states: { column: 'stage', type: '"CaseStage"', values: stages.length === 0 ? caseStages : stages },
      where,
    },
    orderings[query.sort],
    query,
  );
  const rows = await work.tx.eyeCase.findMany({ where: { id: { in: keys.flat() } }, include: caseAround });
  return { items: await describeCases(work, inOrderOf(keys, rows)), ...page };
}
