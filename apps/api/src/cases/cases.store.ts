import type { FirstSurgery, MeasurementFacts } from '@lensferry/domain';
import { fromDate } from '../platform/plain-date.js';
import { padded } from '../platform/padded.js';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { caseMissing, caseMoved } from './cases.errors.js';

/** A case with what its rules look at. */
export const caseFacts = {
  patient: { include: { clinic: true } },
  measurements: { orderBy: [{ takenOn: 'asc' }, { recordedAt: 'asc' }] },
  orders: { orderBy: { openedAt: 'asc' }, include: { lenses: true } },
  implantations: {
    orderBy: [{ performedOn: 'asc' }, { recordedAt: 'asc' }],
    include: { lens: true, consideration: true },
  },
  exchanges: { orderBy: { round: 'asc' } },
} as const satisfies Prisma.EyeCaseInclude;
export type CaseRow = Prisma.EyeCaseGetPayload<{ include: typeof caseFacts }>;

/** Loads a case. @throws DomainError `case.missing`. */
export async function loadCase({ tx }: Work, caseId: string): Promise<CaseRow> {
  const row = await tx.eyeCase.findFirst({ where: { id: caseId }, include: caseFacts });
  if (row === null) throw caseMissing();
  return row;
}

/** Loads several cases, in any order. @throws DomainError `case.missing`. */
export async function loadCases({ tx }: Work, caseIds: readonly string[]): Promise<CaseRow[]> {
  const ids = [...new Set(caseIds)];
  const rows = await tx.eyeCase.findMany({ where: { id: { in: padded(ids) } }, include: caseFacts });
  if (rows.length < ids.length) throw caseMissing();
  return rows;
}

/** Loads a case as the person saw it. @throws DomainError `case.moved` when it has changed since. */
export async function loadCaseAt(work: Work, caseId: string, version: number): Promise<CaseRow> {
  const row = await loadCase(work, caseId);
  if (row.version !== version) throw caseMoved(row.version);
  return row;
}

/** Changes a case if nobody else has since it was loaded. */
export async function updateCase(
  { tx }: Work,
  row: { clinicId: string; id: string; version: number },
  data: Prisma.EyeCaseUncheckedUpdateManyInput,
): Promise<void> {
  const { count } = await tx.eyeCase.updateMany({
    where: { clinicId: row.clinicId, id: row.id, version: row.version },
    data: { ...data, version: row.version + 1 },
  });
  if (count === 0) throw caseMoved(row.version);
}

type MeasurementRow = CaseRow['measurements'][number];

/** The measurements that count: those that no later one corrects. */
export function standing(rows: readonly MeasurementRow[]): MeasurementRow[] {
  const corrected = new Set(rows.map(({ corrects }) => corrects));
  return rows.filter(({ id }) => !corrected.has(id));
}

/** Measurements as the rules see them. */
export function factsOf(rows: readonly MeasurementRow[]): MeasurementFacts[] {
  return standing(rows).map((row) => ({
    id: row.id,
    kind: row.kind,
    takenOn: fromDate(row.takenOn),
    recordedAt: row.recordedAt.toISOString(),
    values: row.values as MeasurementFacts['values'],
  }));
}

/** The lens that is in the eye now, with its implantation; undefined when there is none. */
export function lensInEye(row: CaseRow): CaseRow['implantations'][number] | undefined {
  return row.implantations.find(({ explantedOn }) => explantedOn === null);
}

/** The exchange whose replacement is not yet in the eye. */
export function openExchangeOf(row: CaseRow): CaseRow['exchanges'][number] | undefined {
  return row.exchanges.find(({ endedAt }) => endedAt === null);
}

/** The latest order of the present round; a smaller lens beside it is not what the case waits for. */
export function orderOfRound(row: CaseRow): CaseRow['orders'][number] | undefined {
  return row.orders.filter(({ round, companionOf }) => round === row.round && companionOf === null).at(-1);
}

/**
 * Every order of the present round that was not given up and whose lens, once here, still is for this eye: the one that
 * the case waits for, and a companion's.
 */
export function standingOrders(row: CaseRow): CaseRow['orders'] {
  const main = orderOfRound(row);
  return row.orders.filter(
    ({ id, round, companionOf, state, lenses }) =>
      round === row.round &&
      (id === main?.id || companionOf !== null) &&
      !givenUp.includes(state) &&
      !(state === 'accepted' && !lenses.some(({ state: at }) => at === 'reserved' || at === 'implanted')),
  );
}
const givenUp: readonly string[] = ['cancelled', 'declined', 'rejected'];

/** The lens that a measurement was taken behind; undefined before the first. A day's order is that of entering. */
export function lensBehind<Operation extends { performedOn: Date; recordedAt: Date }>(
  row: { readonly implantations: readonly Operation[] },
  measurement: Pick<MeasurementFacts, 'takenOn' | 'recordedAt'>,
): Operation | undefined {
  return row.implantations
    .filter(({ performedOn, recordedAt }) => {
      const day = fromDate(performedOn);
      return (
        day < measurement.takenOn ||
        (day === measurement.takenOn && recordedAt.toISOString() < measurement.recordedAt)
      );
    })
    .at(-1);
}

/** What was measured behind the lens that is in the eye now. */
export function measuredBehind(row: CaseRow, lensId: string): MeasurementFacts[] {
  return factsOf(row.measurements).filter((measurement) => lensBehind(row, measurement)?.lensId === lensId);
}

/** The operation that first put a lens into the eye; null when none has. */
export function firstSurgeryOf(row: CaseRow): FirstSurgery | null {
  const first = row.implantations[0];
  return first === undefined
    ? null
    : { performedOn: fromDate(first.performedOn), recordedAt: first.recordedAt.toISOString() };
}
