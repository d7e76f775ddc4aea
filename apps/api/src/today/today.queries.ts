import type { OrderSummary, SearchResult, Today } from '@lensferry/contracts';
import { openWithMaker, type OrderState } from '@lensferry/domain';
import { findCases } from '../cases/cases.queries.js';
import { openCounts } from '../counts/counts.queries.js';
import { caseFacts } from '../cases/cases.store.js';
import { vaultChecks } from '../cases/show-case.js';
import { describeOrders } from '../orders/orders.queries.js';
import { padded } from '../platform/padded.js';
import { fromDate, plusDays, toDate } from '../platform/plain-date.js';
import type { Prisma } from '../platform/prisma-client/client.js';
import { within } from '../platform/state-keys.js';
import { networkSettings } from '../platform/settings-of-network.js';
import { isUntold } from '../platform/telling.js';
import type { Work } from '../platform/work.js';
import { parcelsToPlace } from '../receiving/parcels.store.js';
import { findReturns } from '../returns/returns.queries.js';
import { findLenses } from '../stock/lenses.queries.js';
import { transfersToMove } from '../transfers/transfers.queries.js';

const most = 50;

async function ordersIn(
  work: Work,
  states: readonly OrderState[],
  orderBy: Prisma.LensOrderOrderByWithRelationInput,
): Promise<OrderSummary[]> {
  const rows = await work.tx.lensOrder.findMany({
    where: (await within(work)).orders(states),
    orderBy: [orderBy, { id: 'asc' }],
    take: most,
  });
  return describeOrders(work, rows);
}

/** How badly an order needs somebody: the chance to be in time, then lateness, then how near theatre is. */
function worstFirst(a: OrderSummary, b: OrderSummary): number {
  const chance = (order: OrderSummary): number => order.forecast?.inTime ?? (order.late ? 0.5 : 1);
  return (
    chance(a) - chance(b) ||
    Number(b.late) - Number(a.late) ||
    (a.needBy ?? '9999').localeCompare(b.needBy ?? '9999')
  );
}

/** What matters now, each list worst first. The screens choose which of them a role sees. */
export async function today(work: Work): Promise<Today> {
  const { cases, lenses } = await within(work);
  const day = fromDate(work.now);
  const out = await ordersIn(work, openWithMaker, { needBy: { sort: 'asc', nulls: 'last' } });
  const soon = plusDays(day, 60);
  const lists: Omit<Today, 'counts'> = {
    toSign: await ordersIn(work, ['submitted', 'change_proposed'], { stateSince: 'asc' }),
    toPlan: await findCases(work, {
      ...cases(['planning']),
      awaited: { in: ['plan', 'plan-after-decline'] },
    }),
    toMeasure: await findCases(work, { awaited: 'measurements' }),
    toSubmit: await ordersIn(work, ['draft', 'changes_requested'], { stateSince: 'asc' }),
    toPlace: await ordersIn(work, ['approved'], { stateSince: 'asc' }),
    sendFailed: await ordersIn(work, ['send_failed', 'disputed'], { stateSince: 'asc' }),
    declined: await declinedWithoutSuccessor(work),
    cancelling: await ordersIn(work, ['cancel_requested'], { stateSince: 'asc' }),
    changing: await ordersIn(work, ['change_requested'], { stateSince: 'asc' }),
    toTell: await toTell(work),
    atRisk: out.filter((order) => order.late || (order.forecast?.inTime ?? 1) < 0.95).sort(worstFirst),
    toReceive: await ordersIn(work, ['shipped', 'arrived'], { expectedOn: { sort: 'asc', nulls: 'last' } }),
    unexpected: await parcelsToPlace(work, most),
    missingFromParcel: await missingFromParcel(work),
    quarantined: await findLenses(
      work,
      { ...lenses(['quarantined']), order: { state: 'quarantined' } },
      most,
    ),
    toSchedule: await findCases(work, { theatreOn: null, ...cases(['on_order', 'lens_here']) }),
    inTheatre: await findCases(
      work,
      { ...cases(['lens_here']), theatreOn: { lte: toDate(plusDays(day, 7)) } },
      [{ theatreOn: 'asc' }],
    ),
    visitsDue: await visitsDue(work, day),
    poorVaults: await poorVaults(work),
    exchanges: await findCases(work, { exchanges: { some: { endedAt: null } } }),
    toConsider: await findCases(work, {
      implantations: { some: { explantedOn: { not: null }, consideration: null } },
    }),
    openCounts: await openCounts(work, most),
    transfers: await transfersToMove(work, most),
    returns: await findReturns(work, { state: { notIn: ['credited', 'written_off'] } }),
    toReturn: await findLenses(
      work,
      {
        ...lenses(['explanted', 'quarantined', 'in_stock', 'reserved']),
        returns: { none: {} },
        OR: [
          { state: 'explanted' },
          { state: 'quarantined', order: { state: 'rejected' } },
          spareOfCompanions,
        ],
      },
      most,
    ),
    expiring: (
      await findLenses(work, {
        ...lenses(['in_stock', 'reserved']),
        OR: [
          { expiresOn: { lte: toDate(soon) } },
          // However far ahead: what is kept for an eye has to last until its surgery.
          { state: 'reserved', order: { eyeCase: { theatreOn: { gte: toDate(soon) } } } },
        ],
      })
    ).filter(({ expiryWarning }) => expiryWarning !== null),
  };
  const counts = Object.fromEntries(Object.entries(lists).map(([name, list]) => [name, list.length]));
  return { ...lists, counts };
}

/** The one of two lenses ordered beside each other that didn't go into the eye. */
const spareOfCompanions: Prisma.LensUnitWhereInput = {
  state: { in: ['in_stock', 'reserved'] },
  order: {
    OR: [{ companionOf: { not: null } }, { companions: { some: {} } }],
    eyeCase: { stage: { in: ['implanted', 'follow_up', 'closed'] }, exchanges: { none: { endedAt: null } } },
  },
};

/** Orders, changes and cancellations that a person has to tell a maker: by hand, or because the sending failed. */
async function toTell(work: Work): Promise<OrderSummary[]> {
  const waiting = await ordersIn(work, ['queued', 'change_requested', 'cancel_requested'], {
    stateSince: 'asc',
  });
  return waiting.filter((order) =>
    order.state === 'queued' ? order.maker.channel === 'by_hand' : isUntold(order),
  );
}

/** Orders that their maker put into a parcel of which another lens was taken in, and that were not. */
async function missingFromParcel(work: Work): Promise<OrderSummary[]> {
  const { orders } = await within(work);
  const shipped = await work.tx.lensOrder.findMany({
    where: { ...orders(['shipped']), tracking: { not: null } },
    orderBy: [{ shippedAt: 'asc' }, { id: 'asc' }],
  });
  const came = await work.tx.lensOrder.findMany({
    where: { tracking: { in: shipped.flatMap(({ tracking }) => tracking ?? []) }, arrivedAt: { not: null } },
    select: { clinicId: true, makerId: true, tracking: true },
  });
  const parcels = new Set(came.map(parcelOf));
  return describeOrders(work, shipped.filter((order) => parcels.has(parcelOf(order))).slice(0, most));
}

const parcelOf = (order: { clinicId: string; makerId: string; tracking: string | null }): string =>
  `${order.clinicId} ${order.makerId} ${order.tracking}`;

/** Declined orders whose case has no newer order yet. */
async function declinedWithoutSuccessor(work: Work): Promise<OrderSummary[]> {
  const { orders } = await within(work);
  const rows = await work.tx.lensOrder.findMany({
    where: { ...orders(['declined']), eyeCase: { awaited: 'plan-after-decline' } },
    orderBy: { stateSince: 'desc' },
    distinct: ['caseId'],
    take: most,
  });
  return describeOrders(work, rows);
}

async function visitsDue(work: Work, day: string) {
  const { cases } = await within(work);
  const operated = await findCases(
    work,
    { ...cases(['implanted']), exchanges: { none: { endedAt: null } } },
    [{ stageSince: 'asc' }],
    200,
  );
  return operated.filter(({ waiting }) => waiting.until !== null && waiting.until <= day).slice(0, most);
}

/** Eyes whose latest settled vault is outside the band and that have no exchange open. */
async function poorVaults(work: Work): Promise<Today['poorVaults']> {
  const settings = await networkSettings(work);
  const [low, high] = [
    Math.max(settings.vaultLowBelowUm, settings.vaultAlertBelowUm),
    Math.min(settings.vaultHighAboveUm, settings.vaultAlertAboveUm),
  ];
  // Eyes with any vault outside since the lens in them went in; which of their vaults counts, and how, is judged below.
  const outside = await work.tx.$queryRaw<{ id: string }[]>`
    select distinct c.id::text as id from eye_case c
    join measurement m on m.clinic_id = c.clinic_id and m.case_id = c.id and m.kind = 'vault'
    join implantation i on i.clinic_id = c.clinic_id and i.case_id = c.id
    where c.stage_key = hashenum('follow_up'::"CaseStage") and i.explanted_on is null and m.taken_on >= i.performed_on
      and not (m.values ->> 'vaultUm')::float8 between ${low}::float8 and ${high}::float8`;
  const rows = await work.tx.eyeCase.findMany({
    where: { id: { in: padded(outside.map(({ id }) => id)) }, exchanges: { none: { endedAt: null } } },
    include: caseFacts,
  });
  const poor = rows.flatMap((row) => {
    const inEye = row.implantations.find(({ explantedOn }) => explantedOn === null);
    const check = vaultChecks(row, settings)
      .filter(({ lensId }) => lensId === inEye?.lensId)
      .at(-1);
    return check === undefined || check.level === 'fine' ? [] : [{ id: row.id, check }];
  });
  const cases = await findCases(work, { id: { in: poor.map(({ id }) => id) } }, undefined, poor.length);
  return poor
    .flatMap(({ id, check }) => {
      const found = cases.find((item) => item.id === id);
      return found === undefined ? [] : [{ case: found, check }];
    })
    .sort((a, b) => Number(b.check.level === 'stop') - Number(a.check.level === 'stop'));
}

/** Finds cases, orders, lenses and returns by code, code name, number or serial. */
export async function search(work: Work, q: string): Promise<SearchResult[]> {
  if (q.length < 2) return [];
  const like = { contains: q, mode: 'insensitive' } as const;
  const take = 8;
  const { tx } = work;
  const cases = await tx.eyeCase.findMany({
    where: { OR: [{ code: like }, { patient: { codeName: like } }] },
    include: { patient: true },
    take,
  });
  const orders = await tx.lensOrder.findMany({ where: { number: like }, take });
  const lenses = await tx.lensUnit.findMany({
    where: { OR: [{ serial: like }, { lot: like }] },
    include: { order: true },
    take,
  });
  const returns = await tx.lensReturn.findMany({
    where: { number: like },
    include: { lens: { include: { order: true } } },
    take,
  });
  const side = (eye: 'OD' | 'OS'): string => (eye === 'OD' ? 'right eye' : 'left eye');
  return [
    ...cases.map((row) => ({
      kind: 'case' as const,
      id: row.id,
      caseId: row.id,
      label: `${row.patient.codeName} · ${side(row.eye)}`,
      detail: row.code,
    })),
    ...orders.map((row) => ({
      kind: 'order' as const,
      id: row.id,
      caseId: row.caseId,
      label: row.number,
      detail: row.state.replaceAll('_', ' '),
    })),
    ...lenses.map((row) => ({
      kind: 'lens' as const,
      id: row.id,
      caseId: row.order.caseId,
      label: row.serial,
      detail: row.state.replaceAll('_', ' '),
    })),
    ...returns.map((row) => ({
      kind: 'return' as const,
      id: row.id,
      caseId: row.lens.order.caseId,
      label: row.number,
      detail: row.state.replaceAll('_', ' '),
    })),
  ];
}
