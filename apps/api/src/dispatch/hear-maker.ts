import { HttpException } from '@nestjs/common';
import { MakerMessage } from '@lensferry/contracts';
import { DomainError, eyeInCapitals, type ReturnState, type Specification } from '@lensferry/domain';
import { Webhook, WebhookVerificationError } from 'standardwebhooks';
import { acceptCancellation, refuseCancellation, requireNoChangeInDispute } from '../orders/move-order.js';
import { acceptChange, refuseChange, requireAwaited, tellNeedBy } from '../orders/change-order.js';
import { takeStep, type OrderRow } from '../orders/orders.store.js';
import type { Database } from '../platform/database.js';
import { fieldErrors } from '../platform/field-errors.js';
import { toDate } from '../platform/plain-date.js';
import { requireStorable } from '../platform/storable-text.js';
import type { Actor, Work } from '../platform/work.js';
import { orderedLens } from './order-document.js';
import { makerSecretPurpose } from '../makers/makers.store.js';
import { authoriseReturn, creditReturn, receiveReturn } from '../returns/move-return.js';

/** A message as it came over the wire: the bytes that the signature covers, and its headers. */
export interface RawMessage {
  readonly body: string;
  readonly headers: Record<string, string>;
}

/** Nobody's clinic: enough to read makers, which belong to the network. */
const doorkeeper: Actor = { kind: 'worker', personId: null, name: 'Dispatch', clinicIds: [] };

/**
 * Takes a maker's message in: proves its signature, finds the clinic by the number it quotes, and applies it once.
 * @returns whether it changed anything; a message heard before does not.
 * @throws HttpException 401 for a signature that is not this maker's; 503 when the message outran our own sending.
 */
export async function hearMaker(
  database: Database,
  makerCode: string,
  raw: RawMessage,
): Promise<{ applied: boolean }> {
  const maker = await database.work(doorkeeper, async ({ tx, box }) => {
    const row = await tx.maker.findUnique({ where: { code: makerCode } });
    return row === null || row.secretSealed === null
      ? null
      : { id: row.id, name: row.name, secret: box.open(row.secretSealed, makerSecretPurpose(row.id)) };
  });
  if (maker === null) throw notThisMakers();
  const message = parsed(verified(maker.secret, raw));
  const clinicId = await database.work(doorkeeper, (work) => clinicOf(work, maker.id, message));
  const actor: Actor = { kind: 'maker', personId: null, name: maker.name, clinicIds: [clinicId] };
  const messageId = raw.headers['webhook-id'] ?? '';
  return database.work(actor, async (work) => {
    const heard = await work.tx.makerMessage.createMany({
      data: [{ makerId: maker.id, messageId, clinicId, receivedAt: work.now, message }],
      skipDuplicates: true,
    });
    if (heard.count === 0) return { applied: false };
    await applyMessage(work, maker.id, message);
    return { applied: true };
  });
}

const notThisMakers = () => new HttpException('The signature is not this maker’s.', 401);

function verified(secret: string, { body, headers }: RawMessage): unknown {
  try {
    return new Webhook(secret).verify(body, headers);
  } catch (error) {
    if (error instanceof WebhookVerificationError) throw notThisMakers();
    throw new HttpException('', 400);
  }
}

function parsed(content: unknown): MakerMessage {
  const result = MakerMessage.safeParse(content);
  if (result.success) {
    requireStorable(result.data);
    return result.data;
  }
  throw new DomainError(
    'invalid',
    'maker-message.invalid',
    'The message does not have the form that the published schema gives.',
    {},
    fieldErrors(result.error.issues),
  );
}

async function clinicOf({ tx }: Work, makerId: string, message: MakerMessage): Promise<string> {
  const rows =
    'orderNumber' in message
      ? await tx.$queryRaw<
          { clinic: string | null }[]
        >`select clinic_of_order(${message.orderNumber}, ${makerId}::uuid) as clinic`
      : await tx.$queryRaw<
          { clinic: string | null }[]
        >`select clinic_of_return(${message.returnNumber}, ${makerId}::uuid) as clinic`;
  const clinic = rows[0]?.clinic ?? null;
  if (clinic === null)
    throw new DomainError(
      'missing',
      'maker-message.unknown-number',
      'We have no such order or return with this maker.',
    );
  return clinic;
}

/** Applies one message in the actor's transaction. Also the way the demo's makers speak. */
export async function applyMessage(work: Work, makerId: string, message: MakerMessage): Promise<void> {
  if ('returnNumber' in message) return applyToReturn(work, message);
  const order = await work.tx.lensOrder.findFirstOrThrow({ where: { number: message.orderNumber, makerId } });
  if (order.state === 'queued')
    throw new HttpException('This order is still being sent; tell us again in a moment.', 503);
  switch (message.type) {
    case 'order.acknowledged':
      return acknowledge(work, order, message);
    case 'order.promise-changed':
      await takeStep(work, order, 'promise', {
        data: { promisedOn: toDate(message.promisedOn), note: message.reason },
        facts: { promisedOn: message.promisedOn },
        why: message.reason,
      });
      return;
    case 'order.declined':
      await takeStep(work, order, 'decline', {
        data: { note: message.reason, endedAt: work.now },
        why: message.reason,
      });
      return;
    case 'order.cancellation-accepted':
      return acceptCancellation(work, order);
    case 'order.cancellation-refused':
      return refuseCancellation(work, order, message.reason);
    case 'order.change-accepted':
      return hearConsent(work, order, message);
    case 'order.change-refused':
      return refuseChange(work, order, { why: message.reason, number: message.change });
    case 'order.shipped':
      await takeStep(work, order, 'ship', {
        data: {
          shippedAt: work.now,
          tracking: message.trackingReference,
          expectedOn: toDate(message.expectedOn),
          announcedUnit: message.unit,
          note: null,
        },
        facts: {
          tracking: message.trackingReference,
          expectedOn: message.expectedOn,
          serial: message.unit.serial,
        },
      });
  }
}

type Acknowledged = Extract<MakerMessage, { type: 'order.acknowledged' }>;

/** An echo that is not exactly what was signed stops the order until a coordinator has cleared it with the maker. */
async function acknowledge(work: Work, order: OrderRow, { echo, promisedOn }: Acknowledged): Promise<void> {
  requireNoChangeInDispute(order);
  if (await disputed(work, order, order.specification as unknown as Specification, echo)) return;
  await takeStep(work, order, 'acknowledge', {
    data: {
      acknowledgedAt: work.now,
      promisedOn: toDate(promisedOn),
      firstPromisedOn: toDate(promisedOn),
      note: null,
    },
    facts: { promisedOn },
  });
  await tellNeedBy(work, order.id);
}

type Consent = Extract<MakerMessage, { type: 'order.change-accepted' }>;

/** The echo of a change is compared with what was asked for: the new lens where one was signed. */
async function hearConsent(work: Work, order: OrderRow, message: Consent): Promise<void> {
  const { amended } = requireAwaited(order, message.change);
  const wanted = amended?.specification ?? (order.specification as unknown as Specification);
  if (await disputed(work, order, wanted, message.echo)) return;
  await acceptChange(work, order, { promisedOn: message.promisedOn, number: message.change });
}

/** Whether an echo differs from what is wanted; the order is then disputed. */
async function disputed(
  work: Work,
  order: OrderRow,
  specification: Specification,
  echo: Acknowledged['echo'],
): Promise<boolean> {
  const wanted: Record<string, unknown> = {
    eye: eyeInCapitals[specification.eye],
    ...orderedLens(specification),
  };
  const echoed: Record<string, unknown> = { eye: echo.eye, ...echo.lens };
  const differing = Object.keys(wanted).filter((field) => wanted[field] !== echoed[field]);
  if (differing.length === 0) return false;
  const said = differing.map(
    (field) => `${field} ${String(echoed[field])} instead of ${String(wanted[field])}`,
  );
  const note = `The maker echoed another lens: ${said.join(', ')}.`;
  await takeStep(work, order, 'dispute', { data: { note }, facts: { differing, echoed }, why: note });
  return true;
}

/** States in which a message has outrun our own step: the maker is asked to say it again. */
const tooEarly: Partial<Record<MakerMessage['type'], readonly ReturnState[]>> = {
  'return.received': ['requested', 'authorised'],
  'return.credited': ['requested', 'authorised', 'handed_over'],
};

type OfReturn = Extract<MakerMessage, { returnNumber: string }>;

async function applyToReturn(work: Work, message: OfReturn): Promise<void> {
  const row = await work.tx.lensReturn.findFirstOrThrow({ where: { number: message.returnNumber } });
  if (tooEarly[message.type]?.includes(row.state))
    throw new HttpException(
      'This parcel is not on record as handed over yet; tell us again in a moment.',
      503,
    );
  const seen = { version: row.version };
  switch (message.type) {
    case 'return.authorised':
      return authoriseReturn(work, row.id, { ...seen, authorisation: message.authorisation });
    case 'return.received':
      return receiveReturn(work, row.id, seen);
    case 'return.credited':
      return creditReturn(work, row.id, { ...seen, amount: message.amount, currency: message.currency });
  }
}
