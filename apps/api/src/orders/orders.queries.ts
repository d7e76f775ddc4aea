import type { ListQuery, OrderDetail, OrderPage, OrderSummary } from '@lensferry/contracts';
import {
  openWithMaker,
  orderLifecycle,
  orderStates,
  specificationDifferences,
  stepsFrom,
  type OrderEvent,
  type OrderState,
  type Specification,
} from '@lensferry/domain';
import { makerCalendarOf } from '../leadtimes/calendars.js';
import type { z } from 'zod';
import { makersById, type MakersById } from '../makers/makers.store.js';
import { historyOf } from '../platform/history.queries.js';
import { casesThatHold, cutPage, holds, inOrderOf, type Ordering } from '../platform/keyset.js';
import { dayIn, fromDateOrNull, instantOrNull } from '../platform/plain-date.js';
import { Prisma } from '../platform/prisma-client/client.js';
import { tellingOf } from '../platform/telling.js';
import type { Work } from '../platform/work.js';
import { stopsOf } from '../plans/plans.store.js';
import { forecasts, isLate } from './forecast-arrival.js';
import { changeOf, describeChange, needByUntold, toldNeedBy } from './order-change.js';
import { openInquiries } from './ask-makers.js';
import { orderMissing, type OrderRow } from './orders.store.js';

export { orderMissing };

type CaseAround = Prisma.EyeCaseGetPayload<{ include: { patient: { include: { clinic: true } } } }>;

/** What whoever describes orders may have read already. */
interface KnownOfOrders {
  readonly cases?: readonly CaseAround[];
  readonly makers?: MakersById;
  /** All orders that could be companions of each other, so that none need be looked for. */
  readonly companions?: readonly CompanionRow[];
}

/** Orders as lists and cards show them, with their forecasts. */
export async function describeOrders(
  work: Work,
  rows: readonly OrderRow[],
  known?: KnownOfOrders,
): Promise<OrderSummary[]> {
  const { tx, actor, now } = work;
  const cases = new Map(
    (
      known?.cases ??
      (await tx.eyeCase.findMany({
        where: { id: { in: [...new Set(rows.map(({ caseId }) => caseId))] } },
        include: { patient: { include: { clinic: true } } },
      }))
    ).map((eyeCase) => [eyeCase.id, eyeCase]),
  );
  const makers = known?.makers ?? (await makersById(work));
  const versions = await tx.designVersion.findMany({
    where: { id: { in: [...new Set(rows.map(({ designVersionId }) => designVersionId))] } },
    include: { design: true },
  });
  const designNames = new Map(versions.map((version) => [version.id, version.design.name]));
  const forecastOf = await forecasts(work, rows);
  const beside = besidesAmong(known?.companions ?? (await findCompanions(work, rows)));
  const inquiryOf = await openInquiries(work, rows);
  return rows.flatMap((row) => {
    const eyeCase = cases.get(row.caseId);
    const maker = makers.get(row.makerId);
    if (eyeCase === undefined || maker === undefined) return [];
    const { patient } = eyeCase;
    const today = dayIn(patient.clinic.timeZone, now);
    return [
      {
        id: row.id,
        number: row.number,
        state: row.state,
        stateSince: row.stateSince.toISOString(),
        version: row.version,
        clinic: { id: row.clinicId, name: patient.clinic.name, timeZone: patient.clinic.timeZone },
        case: { id: row.caseId, code: eyeCase.code, codeName: patient.codeName, eye: eyeCase.eye },
        maker: { id: maker.id, code: maker.code, name: maker.name, channel: maker.channel },
        designName: designNames.get(row.designVersionId) ?? '',
        specification: row.specification as unknown as Specification & OrderSummary['specification'],
        specificationHash: row.specificationHash,
        round: row.round,
        isExchange: row.replacesLensId !== null,
        ...beside(row),
        openedAt: row.openedAt.toISOString(),
        needBy: fromDateOrNull(row.needBy),
        toldNeedBy: toldNeedBy(row),
        change: describeChange(row) as OrderSummary['change'],
        telling: tellingOf(row),
        inquiry: inquiryOf(row),
        promisedOn: fromDateOrNull(row.promisedOn),
        firstPromisedOn: fromDateOrNull(row.firstPromisedOn),
        quotedWorkingDays: row.quotedDays,
        sentAt: instantOrNull(row.sentAt),
        acknowledgedAt: instantOrNull(row.acknowledgedAt),
        shippedAt: instantOrNull(row.shippedAt),
        arrivedAt: instantOrNull(row.arrivedAt),
        expectedOn: fromDateOrNull(row.expectedOn),
        tracking: row.tracking,
        note: row.note,
        late: isLate(row, today, makerCalendarOf(maker)),
        forecast: forecastOf.get(row.id) ?? null,
        price: row.price.toFixed(2),
        currency: row.currency,
        steps: stepsFrom(orderLifecycle, row.state, actor.kind)
          .map(({ event }) => event)
          .filter((event) => isOpen(row, event, maker.channel)),
      },
    ];
  });
}

type CompanionRow = Pick<OrderRow, 'id' | 'number' | 'state' | 'specification' | 'companionOf'>;

/** Orders that stand beside some orders: what smaller lenses were ordered beside, and the smaller lenses. */
async function findCompanions({ tx }: Work, rows: readonly OrderRow[]): Promise<CompanionRow[]> {
  const firsts = rows.flatMap(({ companionOf }) => companionOf ?? []);
  const clinics = [...new Set(rows.map(({ clinicId }) => clinicId))];
  // Asked in two, and by clinic: with an `or` between them no index serves, and every order is read.
  const read = (which: Prisma.LensOrderWhereInput) =>
    tx.lensOrder.findMany({
      where: { clinicId: { in: clinics }, ...which },
      select: { id: true, number: true, state: true, specification: true, companionOf: true },
      orderBy: { openedAt: 'asc' },
    });
  return [
    ...(await read({ companionOf: { in: rows.map(({ id }) => id) } })),
    ...(firsts.length === 0 ? [] : await read({ id: { in: firsts } })),
  ];
}

/** The order that a smaller lens was ordered beside, and the smaller lens that stands beside an order. */
function besidesAmong(
  found: readonly CompanionRow[],
): (row: OrderRow) => Pick<OrderSummary, 'companionOf' | 'companion'> {
  return ({ id, companionOf }) => {
    const first = found.find((one) => one.id === companionOf);
    const last = found.filter((one) => one.companionOf === id && one.state !== 'cancelled').at(-1);
    return {
      companionOf: first === undefined ? null : { id: first.id, number: first.number },
      companion:
        last === undefined
          ? null
          : {
              id: last.id,
              number: last.number,
              state: last.state,
              lengthMm: (last.specification as unknown as Specification).lengthMm,
            },
    };
  };
}

/** Whether a step that the table allows has something to act on. */
function isOpen(row: OrderRow, event: OrderEvent, channel: string): boolean {
  switch (event) {
    // Taken on the lens that fits, where one does.
    case 'fill':
      return false;
    case 'deliver':
      return channel === 'by_hand' || row.state === 'send_failed';
    case 'ask-change':
      return needByUntold(row);
    case 'accept-change':
    case 'refuse-change':
      return changeOf(row) !== null;
    case 'acknowledge':
      return row.state !== 'disputed' || changeOf(row) === null;
    default:
      return true;
  }
}

const orderings: Record<ListQuery['sort'], Ordering> = {
  recent: { name: 'recent', column: 'opened_at', kind: 'instant', descending: true },
  due: { name: 'due', column: 'need_by', kind: 'day', optional: true },
  code: { name: 'code', column: 'number', kind: 'text' },
};

/** A page of orders, newest first, or by when they are needed. */
export async function listOrders(work: Work, query: ListQuery): Promise<z.infer<typeof OrderPage>> {
  const { keys, ...page } = await cutPage(
    work,
    {
      table: 'lens_order',
      states: {
        column: 'state',
        type: '"OrderState"',
        values: query.state === undefined ? orderStates : statesOf(query.state),
      },
      where: conditions(query),
    },
    orderings[query.sort],
    query,
  );
  const rows = await work.tx.lensOrder.findMany({
    where: { id: { in: keys.flat() } },
    include: { eyeCase: { include: { patient: { include: { clinic: true } } } } },
  });
  const cases = rows.map(({ eyeCase }) => eyeCase);
  return { items: await describeOrders(work, inOrderOf(keys, rows), { cases }), ...page };
}

function conditions({ makerId, caseId, q }: ListQuery): Prisma.Sql[] {
  const all: Prisma.Sql[] = [];
  if (makerId !== undefined) all.push(Prisma.sql`r.maker_id = ${makerId}::uuid`);
  if (caseId !== undefined) all.push(Prisma.sql`r.case_id = ${caseId}::uuid`);
  if (q !== undefined && q !== '')
    all.push(Prisma.sql`(${holds('r.number', q)} or r.case_id in (${casesThatHold(q)}))`);
  return all;
}

function statesOf(text: string): OrderState[] {
  const asked = text.split(',');
  const wanted = asked.includes('open') ? [...asked, 'queued', ...openWithMaker] : asked;
  return orderStates.filter((state) => wanted.includes(state));
}

/** One order with everything about it. @throws DomainError `order.missing`. */
export async function showOrder(work: Work, orderId: string): Promise<OrderDetail> {
  const row = await work.tx.lensOrder.findFirst({
    where: { id: orderId },
    include: { signatures: { orderBy: { signedAt: 'asc' } }, deliveries: { orderBy: { at: 'asc' } } },
  });
  if (row === null) throw orderMissing();
  const [summary] = await describeOrders(work, [row]);
  if (summary === undefined) throw orderMissing();
  const specification = row.specification as unknown as Specification;
  const submitted = row.submittedSpecification as unknown as Specification | null;
  const unit = row.announcedUnit as {
    serial: string;
    lot?: string;
    expiresOn: string;
    gtin?: string | null;
  } | null;
  return {
    ...summary,
    differencesSinceSubmission: submitted === null ? [] : specificationDifferences(submitted, specification),
    differencesFromReplaced: await differencesFromReplaced(work, row),
    signatures: row.signatures.map((signature) => ({
      signerName: signature.signerName,
      meaning: signature.meaning,
      signedAt: signature.signedAt.toISOString(),
      specificationHash: signature.specificationHash,
      voidedAt: instantOrNull(signature.voidedAt),
      voidedWhy: signature.voidedWhy,
      reasons: signature.reasons as Record<string, string>,
    })),
    deliveries: row.deliveries.map(({ attempt, at, status, outcome }) => ({
      attempt,
      at: at.toISOString(),
      status,
      outcome,
    })),
    announcedUnit:
      unit === null
        ? null
        : { serial: unit.serial, lot: unit.lot ?? null, expiresOn: unit.expiresOn, gtin: unit.gtin ?? null },
    stops: (await stopsOf(work, changeOf(row)?.amended ?? row)).map(({ code, message, facts }) => ({
      code,
      message,
      ...(facts === undefined ? {} : { facts }),
    })),
    history: await historyOf(work, { orderId }),
  };
}

async function differencesFromReplaced(
  { tx }: Work,
  row: OrderRow,
): Promise<OrderDetail['differencesFromReplaced']> {
  if (row.replacesLensId === null) return [];
  const replaced = await tx.lensUnit.findFirst({
    where: { id: row.replacesLensId },
    include: { order: true },
  });
  if (replaced === null) return [];
  return specificationDifferences(
    replaced.order.specification as unknown as Specification,
    row.specification as unknown as Specification,
  );
}
