import { makerSecretPurpose } from '../makers/makers.store.js';
import { changeOf } from '../orders/order-change.js';
import type { OrderRow } from '../orders/orders.store.js';
import { padded } from '../platform/padded.js';
import type { DispatchJob } from '../platform/queue.js';
import type { Work } from '../platform/work.js';
import type { Address, MakerDocument, Parcel } from './channel.js';
import { returnDocument } from './order-document.js';

/** A document that waits, before its maker's address is on it. */
interface Letter {
  readonly of: { readonly id: string; readonly number: string; readonly makerId: string };
  /** Where it goes, after the maker's endpoint. */
  readonly path: string;
  readonly written: Pick<Parcel, 'kind' | 'key' | 'document' | 'writtenAt'>;
}

/** What each of some jobs of one clinic has to send, in their order; null where there is nothing to send any more. */
export async function parcelsFor(
  work: Work,
  jobs: readonly Pick<DispatchJob, 'topic' | 'payload'>[],
): Promise<(Parcel | null)[]> {
  const orderIds = jobs.flatMap(({ payload }) => payload['orderId'] ?? []);
  const rows =
    orderIds.length === 0
      ? []
      : await work.tx.lensOrder.findMany({ where: { id: { in: padded(orderIds) } } });
  const orders = new Map(rows.map((row) => [row.id, row]));
  const letters: (Letter | null)[] = [];
  for (const job of jobs) letters.push(await letterFor(work, job, orders));
  const makerIds = [...new Set(letters.flatMap((letter) => letter?.of.makerId ?? []))];
  const makers =
    makerIds.length === 0 ? [] : await work.tx.maker.findMany({ where: { id: { in: padded(makerIds) } } });
  const addresses = new Map(makers.map((maker) => [maker.id, addressOf(work, maker)]));
  return letters.map((letter) => {
    const address = letter === null ? null : (addresses.get(letter.of.makerId) ?? null);
    return letter === null || address === null ? null : parcelTo(address, letter);
  });
}

function letterFor(
  work: Work,
  { topic, payload }: Pick<DispatchJob, 'topic' | 'payload'>,
  orders: ReadonlyMap<string, OrderRow>,
): Letter | null | Promise<Letter | null> {
  const order = orders.get(payload['orderId'] ?? '');
  switch (topic) {
    case 'order.send':
      return order === undefined ? null : orderLetter(order);
    case 'order.cancel':
      return order === undefined ? null : cancellationLetter(order);
    case 'order.change':
      return order === undefined ? null : changeLetter(order);
    case 'order.inquiry':
      return inquiryLetter(work, payload['inquiryId'] ?? '');
    default:
      return returnLetter(work, payload['returnId'] ?? '');
  }
}

function orderLetter(order: OrderRow): Letter | null {
  if (order.state !== 'queued' || order.document === null) return null;
  return {
    of: order,
    path: 'orders',
    written: {
      kind: 'order',
      key: order.number,
      document: order.document as unknown as MakerDocument,
      writtenAt: order.placedAt ?? order.openedAt,
    },
  };
}

/** An order may be asked for more than once, after a refusal; each question has a key of its own. */
function cancellationLetter(order: OrderRow): Letter | null {
  if (order.state !== 'cancel_requested' || order.cancellation === null) return null;
  const writtenAt = order.cancelAskedAt ?? order.stateSince;
  return {
    of: order,
    path: 'cancellations',
    written: {
      kind: 'cancellation',
      key: `${order.number}-cancel-${writtenAt.getTime()}`,
      document: order.cancellation as unknown as MakerDocument,
      writtenAt,
    },
  };
}

function changeLetter(order: OrderRow): Letter | null {
  const change = changeOf(order);
  if (order.state !== 'change_requested' || change?.document == null) return null;
  return {
    of: order,
    path: 'changes',
    written: {
      kind: 'change',
      key: `${order.number}-change-${change.number}`,
      document: change.document,
      writtenAt: new Date(change.document.askedAt),
    },
  };
}

async function inquiryLetter(work: Work, inquiryId: string): Promise<Letter | null> {
  const row = await work.tx.inquiry.findFirst({ where: { id: inquiryId } });
  if (row === null || row.told !== null || row.document === null) return null;
  const document = row.document as unknown as MakerDocument;
  return {
    of: row,
    path: 'inquiries',
    written: { kind: 'inquiry', key: row.number, document, writtenAt: row.askedAt },
  };
}

async function returnLetter(work: Work, returnId: string): Promise<Letter | null> {
  const row = await work.tx.lensReturn.findFirst({ where: { id: returnId } });
  if (row === null || row.state !== 'requested') return null;
  const document = await returnDocument(work, returnId);
  return {
    of: row,
    path: 'returns',
    written: { kind: 'return', key: row.number, document, writtenAt: row.openedAt },
  };
}

interface MakerRow {
  readonly id: string;
  readonly channel: string;
  readonly orderEmail: string | null;
  readonly endpoint: string | null;
  readonly secretSealed: string | null;
}

/** Where a maker is reached; null for one that is not reached by this process. */
function addressOf(work: Work, maker: MakerRow): Address | null {
  if (maker.channel === 'email') return { channel: 'email', address: maker.orderEmail ?? '' };
  if (maker.channel !== 'https' || maker.endpoint === null || maker.secretSealed === null) return null;
  const secret = work.box.open(maker.secretSealed, makerSecretPurpose(maker.id));
  return { channel: 'https', url: maker.endpoint, secret };
}

function parcelTo(address: Address, { of, path, written }: Letter): Parcel {
  const { id, number, makerId } = of;
  const to = address.channel === 'https' ? { ...address, url: `${address.url}/${path}` } : address;
  return { ...written, id, number, makerId, to };
}
