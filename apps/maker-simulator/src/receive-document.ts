import { createHash, randomUUID } from 'node:crypto';
import type { IncomingHttpHeaders } from 'node:http';
import {
  CancellationDocument,
  ChangeDocument,
  InquiryDocument,
  OrderDocument,
  ReturnDocument,
  type MakerReceipt,
} from '@lensferry/contracts';
import { Webhook, WebhookVerificationError } from 'standardwebhooks';
import type { Book, Receipt } from './book.js';
import { planCancellation, planChange, planInquiry, planOrder, planReturn } from './plan-messages.js';
import type { Mishaps } from './plan-messages.js';
import { invalidInput, Problem } from './problem.js';
import type { MakerSettings } from './settings.js';

/** Keys of documents that are being written down at this moment. */
const running = new Set<string>();

function verify(maker: MakerSettings, headers: IncomingHttpHeaders, body: Buffer): void {
  const one = (name: string) => (typeof headers[name] === 'string' ? headers[name] : '');
  const signed = {
    'webhook-id': one('webhook-id'),
    'webhook-timestamp': one('webhook-timestamp'),
    'webhook-signature': one('webhook-signature'),
  };
  try {
    new Webhook(maker.secret).verify(body, signed, { jsonParse: false });
  } catch (error) {
    if (!(error instanceof WebhookVerificationError)) throw error;
    throw new Problem(401, 'signature', 'The signature does not hold', `${error.message}.`);
  }
}

function keyFrom(headers: IncomingHttpHeaders): string {
  const key = headers['idempotency-key'];
  if (typeof key !== 'string' || !/^[\x21-\x7e]{1,255}$/.test(key)) {
    throw new Problem(
      400,
      'idempotency-key-missing',
      'Idempotency-Key is missing',
      'Send an Idempotency-Key header of 1 to 255 visible characters.',
    );
  }
  return key;
}

const schemas = {
  order: OrderDocument,
  return: ReturnDocument,
  change: ChangeDocument,
  cancellation: CancellationDocument,
  inquiry: InquiryDocument,
};

function parse(kind: Receipt['kind'], body: Buffer): Receipt['document'] {
  let json: unknown;
  try {
    json = JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(body));
  } catch {
    throw new Problem(400, 'not-json', 'The body is not JSON', 'Send the document as JSON in UTF-8.');
  }
  const parsed = schemas[kind].safeParse(json);
  if (!parsed.success) throw invalidInput(parsed.error);
  return parsed.data;
}

/** An order may be asked for again after a refusal, so a question is known by when it was asked as well. */
function numberOf(document: Receipt['document']): string {
  switch (document.document) {
    case 'lens-order':
      return document.orderNumber;
    case 'lens-return':
      return document.returnNumber;
    case 'order-change':
      return `${document.orderNumber} change ${document.change}`;
    case 'order-inquiry':
      return document.inquiryNumber;
    case 'order-cancellation':
      return `${document.orderNumber} ${document.askedAt}`;
  }
}

function answer(receipt: Receipt): MakerReceipt {
  return { received: true, reference: receipt.reference };
}

/** What a maker needs to receive a document. */
export interface ReceivingDesk {
  readonly book: Book;
  readonly maker: MakerSettings;
  readonly secondsPerDay: number;
  /** Called only when a new order is taken, so that a repetition does not use a mishap up. */
  readonly takeMishaps: () => Mishaps;
}

/**
 * Receives one signed order or return, exactly once for its Idempotency-Key and once for its number.
 * @throws Problem 400, 401, 409 or 422.
 */
export async function receiveDocument(
  desk: ReceivingDesk,
  kind: Receipt['kind'],
  headers: IncomingHttpHeaders,
  body: Buffer,
): Promise<MakerReceipt> {
  const { book, maker } = desk;
  verify(maker, headers, body);
  const idempotencyKey = keyFrom(headers);
  const bodyHash = createHash('sha256').update(body).digest('hex');
  const before = book.findByKey(maker.code, kind, idempotencyKey);
  if (before && before.bodyHash !== bodyHash) {
    throw new Problem(
      422,
      'idempotency-key-reused',
      'The key was used before',
      'This Idempotency-Key belongs to another document.',
    );
  }
  if (before) return answer(before);
  const document = parse(kind, body);
  const number = numberOf(document);
  // The number is guarded as well: two keys for one order must not become two lenses.
  const guards = [`${maker.code} ${kind} key ${idempotencyKey}`, `${maker.code} ${kind} ${number}`];
  if (guards.some((guard) => running.has(guard))) {
    throw new Problem(
      409,
      'still-running',
      'Still at work',
      'The same document is being received at this moment; try again shortly.',
    );
  }
  for (const guard of guards) running.add(guard);
  try {
    return answer(await write(desk, { kind, document, number, idempotencyKey, bodyHash }));
  } finally {
    for (const guard of guards) running.delete(guard);
  }
}

type Incoming = Pick<Receipt, 'kind' | 'document' | 'number' | 'idempotencyKey' | 'bodyHash'>;

async function write(desk: ReceivingDesk, incoming: Incoming): Promise<Receipt> {
  const { book, maker } = desk;
  const known = book.findByNumber(maker.code, incoming.kind, incoming.number);
  if (known) {
    if (known.bodyHash !== incoming.bodyHash) {
      throw new Problem(
        409,
        'number-taken',
        'The number is taken',
        `${incoming.number} was received before with other content.`,
      );
    }
    await book.addRepetition(known, incoming.idempotencyKey);
    return known;
  }
  const receivedAt = new Date();
  const messages = await planned(desk, incoming.document, receivedAt);
  const receipt: Receipt = {
    ...incoming,
    maker: maker.code,
    reference: randomUUID(),
    receivedAt: receivedAt.toISOString(),
    messages,
  };
  await book.addReceipt(receipt);
  return receipt;
}

async function planned(
  { book, maker, secondsPerDay, takeMishaps }: ReceivingDesk,
  document: Receipt['document'],
  receivedAt: Date,
): Promise<Receipt['messages']> {
  switch (document.document) {
    case 'lens-order':
      return planOrder(maker, document, receivedAt, secondsPerDay, takeMishaps());
    case 'lens-return': {
      const shippedAt = book.findBySerial(maker.code, document.serial)?.shippedAt ?? null;
      return planReturn(maker, document, receivedAt, secondsPerDay, shippedAt);
    }
    case 'order-change': {
      const order = book.findByNumber(maker.code, 'order', document.orderNumber);
      const known = order === undefined ? undefined : book.toShip(order);
      const messages = planChange(maker, document, receivedAt, secondsPerDay, known);
      // What was to be said of the old lens is unsaid; the answer to a new one carries its own shipping notice.
      if (order !== undefined && messages.some(({ message }) => message.type === 'order.shipped'))
        await book.stop(order);
      return messages;
    }
    case 'order-inquiry': {
      const toShip = (number: string) => {
        const order = book.findByNumber(maker.code, 'order', number);
        return order === undefined ? undefined : book.toShip(order);
      };
      return planInquiry(document, receivedAt, secondsPerDay, toShip);
    }
    case 'order-cancellation': {
      const order = book.findByNumber(maker.code, 'order', document.orderNumber);
      const canStop = order !== undefined && book.canStop(order);
      if (canStop) await book.stop(order);
      return planCancellation(document, receivedAt, secondsPerDay, canStop);
    }
  }
}
