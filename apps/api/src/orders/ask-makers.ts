import type { AskedMakers, AskMakers, InquiryDocument, OpenInquiry } from '@lensferry/contracts';
import { awaitedFromMaker, DomainError, type Specification } from '@lensferry/domain';
import { v7 as uuid } from 'uuid';
import type { Attempt } from '../dispatch/channel.js';
import { documentNumber } from '../platform/counters.js';
import { grouped } from '../platform/grouped.js';
import { fromDateOrNull } from '../platform/plain-date.js';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { orderMissing, orderMoved, type OrderRow } from './orders.store.js';

/**
 * Asks the makers of some orders when the lenses will come, or writes down that a person has: one question for each
 * clinic and maker, all or none. It moves no order; the next that is heard from the maker answers it.
 * @throws DomainError `order.moved`, `order.not-awaited`, `order.asked-by-hand`.
 */
export async function askMakers(work: Work, { orders, how }: AskMakers): Promise<AskedMakers> {
  work.need('maker.tell');
  const rows = await awaited(work, orders);
  const inquiries: AskedMakers['inquiries'] = [];
  for (const together of grouped(rows, ({ clinicId, makerId }) => `${clinicId} ${makerId}`).values())
    inquiries.push(await askOne(work, together, how ?? null));
  return { id: 'asked', inquiries };
}

async function awaited(work: Work, orders: AskMakers['orders']): Promise<OrderRow[]> {
  const seen = new Map(orders.map(({ id, version }) => [id, version]));
  const rows = await work.tx.lensOrder.findMany({
    where: { id: { in: [...seen.keys()] } },
    orderBy: { number: 'asc' },
  });
  if (rows.length !== seen.size) throw orderMissing();
  for (const row of rows) {
    if (row.version !== seen.get(row.id)) throw orderMoved(row);
    if (!awaitedFromMaker.includes(row.state))
      throw new DomainError(
        'conflict',
        'order.not-awaited',
        `Order ${row.number} is not with its maker, so there is nothing to ask after; leave it out.`,
        { number: row.number, state: row.state },
      );
  }
  return rows;
}

async function askOne(
  work: Work,
  rows: readonly OrderRow[],
  how: string | null,
): Promise<AskedMakers['inquiries'][number]> {
  const { tx, now, actor } = work;
  const [{ clinicId, makerId }] = rows as [OrderRow];
  const maker = await tx.maker.findUniqueOrThrow({ where: { id: makerId } });
  if (how === null && maker.channel === 'by_hand')
    throw new DomainError(
      'refused',
      'order.asked-by-hand',
      `${maker.name} takes no messages: ask it by telephone, then write down how you asked.`,
      { maker: maker.name },
    );
  const clinic = await tx.clinic.findUniqueOrThrow({ where: { id: clinicId } });
  const number = await documentNumber(work, 'Q', clinic);
  const id = uuid();
  const document: InquiryDocument = {
    document: 'order-inquiry',
    version: 1,
    inquiryNumber: number,
    clinic: { code: clinic.code, name: clinic.name },
    askedAt: now.toISOString(),
    orders: rows.map((row) => ({
      orderNumber: row.number,
      caseCode: (row.specification as unknown as Specification).caseCode,
      needBy: fromDateOrNull(row.needBy),
      promisedOn: fromDateOrNull(row.promisedOn),
    })),
  };
  await tx.inquiry.create({
    data: {
      clinicId,
      id,
      number,
      makerId,
      askedAt: now,
      askedBy: actor.name,
      how,
      ...(how === null ? { document: document as unknown as Prisma.InputJsonObject } : { told: true }),
    },
  });
  for (const row of rows) await putQuestion(work, row, { id, number, how });
  if (how === null) work.emit(clinicId, 'order.inquiry', { inquiryId: id });
  return { number, maker: maker.name, orders: rows.length };
}

async function putQuestion(
  work: Work,
  row: OrderRow,
  { id, number, how }: { id: string; number: string; how: string | null },
): Promise<void> {
  const { count } = await work.tx.lensOrder.updateMany({
    where: { clinicId: row.clinicId, id: row.id, version: row.version },
    data: { inquiryId: id, version: row.version + 1 },
  });
  if (count === 0) throw orderMoved(row);
  work.record({
    clinicId: row.clinicId,
    action: 'order.ask-after',
    caseId: row.caseId,
    orderId: row.id,
    facts: { number: row.number, inquiry: number },
    why: how,
  });
}

/** The open question of each order; null where nothing is asked, or the maker was heard from since. */
export async function openInquiries(
  { tx }: Work,
  rows: readonly OrderRow[],
): Promise<(row: OrderRow) => OpenInquiry | null> {
  const ids = [...new Set(rows.flatMap(({ inquiryId }) => inquiryId ?? []))];
  const found = ids.length === 0 ? [] : await tx.inquiry.findMany({ where: { id: { in: ids } } });
  const byId = new Map(found.map((row) => [row.id, row]));
  return ({ inquiryId }) => {
    const row = inquiryId === null ? undefined : byId.get(inquiryId);
    if (row === undefined) return null;
    const { number, askedAt, askedBy: by, how, told, outcome } = row;
    return { number, at: askedAt.toISOString(), by, how, told, outcome };
  };
}

/** Writes down whether a question reached its maker. */
export async function settleInquiry(
  { tx }: Work,
  id: string,
  { sent, outcome }: Pick<Attempt, 'sent' | 'outcome'>,
): Promise<void> {
  await tx.inquiry.updateMany({ where: { id }, data: { told: sent, outcome } });
}
