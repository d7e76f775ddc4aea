import type { ExpiryWarning, LensDetail, LensPage, LensSummary, ListQuery } from '@lensferry/contracts';
import { lensLifecycle, lensStates, may, openTransfers, stepsFrom, type Role } from '@lensferry/domain';
import type { z } from 'zod';
import { makersById } from '../makers/makers.store.js';
import { casesThatHold, cutPage, holds, inOrderOf, type Ordering } from '../platform/keyset.js';
import { dayIn, daysBetween, fromDate, fromDateOrNull, plusDays } from '../platform/plain-date.js';
import { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { custodyOf } from './custody.queries.js';
import { lensMissing, unreadOf } from './move-lens.js';

/** What lists show of a lens beside itself and its order. */
export const lensAround = {
  returns: { where: { state: { not: 'written_off' } } },
  given: { where: { state: { in: [...openTransfers] } } },
  implantations: true,
} as const satisfies Prisma.LensUnitInclude;
const around = {
  order: { include: { eyeCase: { include: { patient: { include: { clinic: true } } } } } },
  ...lensAround,
} as const satisfies Prisma.LensUnitInclude;
type Row = Prisma.LensUnitGetPayload<{ include: typeof around }>;

const warnWithinDays = 60;

/** Lenses as lists show them; their makers are read unless they are given. */
export async function describeLenses(
  work: Work,
  rows: readonly Row[],
  known?: ReadonlyMap<string, { readonly name: string; readonly returnWindowDays: number }>,
): Promise<LensSummary[]> {
  const { tx, actor, now } = work;
  const makers = known ?? (await makersById(work));
  const waitedFor = await stillWaitedFor(tx, rows, now);
  return rows.map((row) => {
    const { eyeCase } = row.order;
    const { clinic } = eyeCase.patient;
    return {
      id: row.id,
      serial: row.serial,
      lot: row.lot,
      expiresOn: fromDate(row.expiresOn),
      state: row.state,
      stateSince: row.stateSince.toISOString(),
      location: row.location,
      version: row.version,
      maker: { id: row.makerId, name: makers.get(row.makerId)?.name ?? '' },
      clinic: { id: clinic.id, name: clinic.name },
      order: { id: row.order.id, number: row.order.number },
      case:
        row.state === 'in_stock' && row.caseId === null
          ? null
          : { id: eyeCase.id, code: eyeCase.code, codeName: eyeCase.patient.codeName, eye: eyeCase.eye },
      lens: row.lens as LensSummary['lens'],
      unread: unreadOf(row.lens),
      quarantineWhy: row.quarantineWhy,
      damaged: row.damaged,
      owner: row.owner,
      expiryWarning: expiryWarning(row, dayIn(clinic.timeZone, now)),
      returnId: row.returns[0]?.id ?? null,
      transferId: row.given[0]?.id ?? null,
      returnBy: returnBy(row, clinic.timeZone, makers.get(row.makerId)?.returnWindowDays),
      steps: stepsOf(row, actor.kind as Role, waitedFor.has(row.id)),
    };
  });
}

/** The last day of the maker's window; null where the lens can't go back or is on its way. */
function returnBy(row: Row, timeZone: string, windowDays: number | undefined): string | null {
  if (!['in_stock', 'reserved', 'quarantined', 'explanted'].includes(row.state)) return null;
  if (windowDays === undefined || row.returns.length > 0) return null;
  const out = row.implantations[0]?.explantedOn;
  return plusDays(out ? fromDate(out) : dayIn(timeZone, row.receivedAt), windowDays);
}

function expiryWarning(row: Row, today: string): ExpiryWarning | null {
  if (!['in_stock', 'reserved', 'quarantined'].includes(row.state)) return null;
  const expires = fromDate(row.expiresOn);
  const theatreOn = fromDateOrNull(row.order.eyeCase.theatreOn);
  const days = daysBetween(today, expires);
  if (days < 0) return { says: 'expired', theatreOn, days };
  if (theatreOn !== null && expires < theatreOn) return { says: 'before_theatre', theatreOn, days };
  return days <= warnWithinDays ? { says: 'soon', theatreOn, days } : null;
}

/** Whose it was no longer matters. */
const ended: readonly string[] = ['returned', 'credited', 'discarded', 'handed_over'];

/** Free units that their own order's eye still waits for, so that they can be taken for it again. */
async function stillWaitedFor(tx: Work['tx'], rows: readonly Row[], now: Date): Promise<Set<string>> {
  const free = rows.filter(
    ({ state, order, expiresOn }) =>
      state === 'in_stock' && order.state === 'accepted' && order.companionOf === null && expiresOn > now,
  );
  if (free.length === 0) return new Set();
  const cases = await tx.eyeCase.findMany({
    where: { id: { in: free.map(({ order }) => order.caseId) }, withdrawnAt: null, closedAt: null },
    include: {
      orders: { where: { companionOf: null }, orderBy: { openedAt: 'asc' } },
      implantations: { where: { explantedOn: null } },
      exchanges: { where: { endedAt: null } },
    },
  });
  const waited = cases.flatMap(({ round, orders, implantations, exchanges }) =>
    implantations.length > 0 && exchanges.length === 0
      ? []
      : (orders.filter((order) => order.round === round).at(-1)?.id ?? []),
  );
  return new Set(free.filter(({ orderId }) => waited.includes(orderId)).map(({ id }) => id));
}

function stepsOf(row: Row, role: Role, waitedFor: boolean): LensSummary['steps'] {
  const events = stepsFrom(lensLifecycle, row.state, role).map(({ event }) => event);
  // It is its transfer's to move.
  if (row.given.length > 0) return [];
  const returning = row.returns.length > 0;
  const steps: LensSummary['steps'] = [];
  if (row.state === 'quarantined' && row.order.state === 'quarantined') {
    const unread = unreadOf(row.lens).length > 0;
    if (unread && may(role, 'arrival.receive')) steps.push('read');
    if (events.includes('release') && !unread && !row.damaged) steps.push('release');
    if (['surgeon', 'inventory'].includes(role)) steps.push('reject');
  } else if (
    ['explanted', 'in_stock', 'quarantined'].includes(row.state) &&
    !returning &&
    may(role, 'lens.return')
  )
    steps.push('return');
  if (waitedFor && !returning && events.includes('reserve')) steps.unshift('reserve');
  if (events.includes('unreserve')) steps.push('unreserve');
  if (row.state === 'in_stock' && row.owner === 'clinic' && !returning && may(role, 'lens.transfer'))
    steps.push('offer');
  if (!ended.includes(row.state) && !returning && may(role, 'lens.own')) steps.push('owner');
  if (events.includes('discard') && !returning && row.order.state !== 'quarantined') steps.push('discard');
  return steps;
}

export async function findLenses(
  work: Work,
  where: Prisma.LensUnitWhereInput,
  take = 200,
): Promise<LensSummary[]> {
  const rows = await work.tx.lensUnit.findMany({
    where,
    include: around,
    orderBy: { expiresOn: 'asc' },
    take,
  });
  return describeLenses(work, rows);
}

export async function showLens(work: Work, lensId: string): Promise<LensDetail> {
  const [lens] = await findLenses(work, { id: lensId });
  if (lens === undefined) throw lensMissing();
  return { ...lens, custody: await custodyOf(work, lensId) };
}

const orderings: Record<ListQuery['sort'], Ordering> = {
  recent: { name: 'recent', column: 'received_at', kind: 'instant', descending: true },
  due: { name: 'due', column: 'expires_on', kind: 'day' },
  code: { name: 'code', column: 'serial', kind: 'text' },
};

/** A page of lenses: taken in last on top, or the first to expire. */
export async function listLenses(work: Work, query: ListQuery): Promise<z.infer<typeof LensPage>> {
  const asked = lensStates.filter((state) => query.state?.split(',').includes(state));
  const { keys, ...page } = await cutPage(
    work,
    {
      table: 'lens_unit',
      states: { column: 'state', type: '"LensState"', values: asked.length === 0 ? lensStates : asked },
      where: conditions(query),
    },
    orderings[query.sort],
    query,
  );
  const rows = await work.tx.lensUnit.findMany({ where: { id: { in: keys.flat() } }, include: around });
  return { items: await describeLenses(work, inOrderOf(keys, rows)), ...page };
}

function conditions({ makerId, caseId, q }: ListQuery): Prisma.Sql[] {
  const ofOrder = (which: Prisma.Sql) =>
    Prisma.sql`r.order_id in (select o.id from lens_order o where ${which})`;
  const all: Prisma.Sql[] = [];
  if (makerId !== undefined) all.push(Prisma.sql`r.maker_id = ${makerId}::uuid`);
  if (caseId !== undefined) all.push(ofOrder(Prisma.sql`o.case_id = ${caseId}::uuid`));
  if (q !== undefined && q !== '')
    all.push(Prisma.sql`(${holds('r.serial', q)} or ${holds("coalesce(r.lot, '')", q)}
      or ${ofOrder(Prisma.sql`o.case_id in (${casesThatHold(q)})`)})`);
  return all;
}
