import type {
  CancellationDocument,
  ChangeDocument,
  InquiryDocument,
  MakerMessage,
  OrderDocument,
  ReturnDocument,
} from '@lensferry/contracts';
import { makeUnit } from './make-unit.js';
import { between, dateAfter, seededNumbers, workingDateAfter } from './seeded.js';
import type { MakerSettings } from './settings.js';

/** A message that is to go out `dueAt` (ISO instant). */
export interface PlannedMessage {
  readonly dueAt: string;
  readonly message: MakerMessage;
}

/** Mishaps that a test or a demonstration asked for. */
export interface Mishaps {
  readonly decline?: boolean;
  readonly wrongEcho?: boolean;
  readonly wrongLabel?: boolean;
}

const DECLINES = [
  'The cylinder is outside what we can cut in this design.',
  'This length is not made in this power; please ask for the next size.',
  'Our line for this design is closed for maintenance this month.',
];
const DELAYS = [
  'The first blank failed optical inspection and is being cut again.',
  'Sterilisation is waiting for the next batch.',
  'A blank of this power has to come from our second site.',
];

type Draft = MakerMessage extends infer M ? (M extends MakerMessage ? Omit<M, 'sentAt'> : never) : never;

// Messages bear the moment at which they fall due, not that of the attempt, so that a repeated attempt after a
// crash repeats the very same body.
function schedule(receivedAt: Date, secondsPerDay: number, day: number, draft: Draft): PlannedMessage {
  const dueAt = new Date(receivedAt.getTime() + day * secondsPerDay * 1000).toISOString();
  return { dueAt, message: { ...draft, sentAt: dueAt } as MakerMessage };
}

function pick(next: () => number, list: readonly string[]): string {
  return list[between(next, 0, list.length - 1)] as string;
}

function makingDays(maker: MakerSettings, order: OrderDocument, next: () => number) {
  const { min, max } = maker.workingDays;
  // Invented but plausible: the middle of the range is likeliest, high cylinders take half as long again, an
  // urgent order is a quarter quicker, and one in six meets a delay. A promise leaves room for nine in ten of those
  // without one, so that about four in five promises are kept.
  const slow = Math.abs(order.lens.cylinderD) >= maker.highCylinderFromD ? 1.5 : 1;
  const factor = slow * (order.urgent ? 0.75 : 1);
  const usual = min + ((next() + next()) / 2) * (max - min);
  const delayed = next() < 1 / 6 ? usual * (0.2 + 0.4 * next()) : 0;
  const promised = Math.max(1, Math.round((min + 0.8 * (max - min)) * factor));
  return { promised, actual: Math.max(2, Math.round((usual + delayed) * factor)) };
}

/** Everything that a maker will say about an order, decided when it arrives and the same for the same order number. */
export function planOrder(
  maker: MakerSettings,
  order: OrderDocument,
  receivedAt: Date,
  secondsPerDay: number,
  mishaps: Mishaps = {},
): PlannedMessage[] {
  const next = seededNumbers(`order ${maker.code} ${order.orderNumber}`);
  const at = (day: number, draft: Draft) => schedule(receivedAt, secondsPerDay, day, draft);
  const { orderNumber } = order;
  const answered = 0.5 + next();
  if (next() < maker.declineShare || mishaps.decline) {
    return [at(answered + 1, { type: 'order.declined', orderNumber, reason: pick(next, DECLINES) })];
  }
  const { promised, actual } = makingDays(maker, order, next);
  const transit = between(next, 1, 2);
  const echo = mishaps.wrongEcho ? wrongEcho(order) : { eye: order.eye, lens: order.lens };
  const planned = [
    at(answered, {
      type: 'order.acknowledged',
      orderNumber,
      echo,
      promisedOn: workingDateAfter(receivedAt, promised),
    }),
  ];
  if (actual > promised) {
    const told = Math.max(answered + 0.5, promised - 1);
    const promisedOn = workingDateAfter(receivedAt, actual + 1);
    planned.push(
      at(told, { type: 'order.promise-changed', orderNumber, promisedOn, reason: pick(next, DELAYS) }),
    );
  }
  const shippedOn = Math.max(answered + 0.5, actual - transit);
  const labelled = mishaps.wrongLabel
    ? { ...order, lens: { ...order.lens, sphereD: order.lens.sphereD + 0.5 } }
    : order;
  planned.push(
    at(shippedOn, {
      type: 'order.shipped',
      orderNumber,
      trackingReference: `${maker.code.toUpperCase().slice(0, 4)}-${between(next, 100_000, 999_999)}`,
      // Days pass quickly here, but a parcel's date is read on the clinic's calendar: transit from the day it leaves.
      expectedOn: workingDateAfter(
        new Date(receivedAt.getTime() + shippedOn * secondsPerDay * 1000),
        transit,
      ),
      unit: makeUnit(maker, labelled, receivedAt),
    }),
  );
  return planned.sort((a, b) => a.dueAt.localeCompare(b.dueAt));
}

function wrongEcho(order: OrderDocument) {
  const axisDeg = order.lens.axisDeg === null ? null : (order.lens.axisDeg % 180) + 1;
  const sphereD = axisDeg === null ? order.lens.sphereD + 0.5 : order.lens.sphereD;
  return { eye: order.eye, lens: { ...order.lens, sphereD, axisDeg } };
}

/**
 * Everything that a maker will say about a return: authorised, received, credited. A unit that left this maker
 * longer ago than its return window brings a credit of 0.
 * @param shippedAt when this maker shipped the unit, or null when it has no record of it.
 */
export function planReturn(
  maker: MakerSettings,
  notice: ReturnDocument,
  receivedAt: Date,
  secondsPerDay: number,
  shippedAt: Date | null,
): PlannedMessage[] {
  const next = seededNumbers(`return ${maker.code} ${notice.returnNumber}`);
  const at = (day: number, draft: Draft) => schedule(receivedAt, secondsPerDay, day, draft);
  const { returnNumber } = notice;
  const late = shippedAt !== null && dateAfter(shippedAt, maker.returnDays) < dateAfter(receivedAt, 0);
  const amount = (late ? 0 : maker.listPrice * maker.creditShare).toFixed(2);
  const authorised = 1 + next();
  const received = authorised + between(next, 3, 6);
  const credited = received + between(next, 3, 8);
  const authorisation = `RA-${between(next, 10_000, 99_999)}`;
  return [
    at(authorised, { type: 'return.authorised', returnNumber, authorisation }),
    at(received, { type: 'return.received', returnNumber }),
    at(credited, { type: 'return.credited', returnNumber, amount, currency: maker.currency }),
  ];
}

/** What a maker answers when it is asked to cancel: yes while the lens is still with it, else that it is too late. */
export function planCancellation(
  asked: CancellationDocument,
  receivedAt: Date,
  secondsPerDay: number,
  canStop: boolean,
): PlannedMessage[] {
  const { orderNumber } = asked;
  const draft: Draft = canStop
    ? { type: 'order.cancellation-accepted', orderNumber }
    : {
        type: 'order.cancellation-refused',
        orderNumber,
        reason: 'The lens has left us, or we have no such order open.',
      };
  return [schedule(receivedAt, secondsPerDay, 0.5, draft)];
}

/**
 * What a maker answers when it is asked when lenses will come: of each that is still with it, the day that its shipping
 * notice will name. What has left, and what it doesn't know, it says nothing of.
 * @param toShip an order's shipping notice still to go out.
 */
export function planInquiry(
  asked: InquiryDocument,
  receivedAt: Date,
  secondsPerDay: number,
  toShip: (orderNumber: string) => PlannedMessage | undefined,
): PlannedMessage[] {
  return asked.orders.flatMap(({ orderNumber }) => {
    const message = toShip(orderNumber)?.message;
    if (message?.type !== 'order.shipped') return [];
    const draft: Draft = {
      type: 'order.promise-changed',
      orderNumber,
      promisedOn: message.expectedOn,
      reason: `You asked (${asked.inquiryNumber}): it is in work.`,
    };
    return [schedule(receivedAt, secondsPerDay, 0.5, draft)];
  });
}

/**
 * What a maker answers when it is asked to change an order. Another date costs it nothing, unless the lens can't be
 * there by then; another lens is begun anew, and takes as long again as this maker's shortest time.
 * @param toShip the shipping notice still to go out; undefined when the lens has left or no such order is open.
 */
export function planChange(
  maker: MakerSettings,
  asked: ChangeDocument,
  receivedAt: Date,
  secondsPerDay: number,
  toShip: PlannedMessage | undefined,
): PlannedMessage[] {
  const { orderNumber, change, eye, lens, needBy } = asked;
  const at = (day: number, draft: Draft) => schedule(receivedAt, secondsPerDay, day, draft);
  const refuse = (reason: string) => [at(0.5, { type: 'order.change-refused', orderNumber, change, reason })];
  if (toShip?.message.type !== 'order.shipped')
    return refuse('The lens has left us, or we have no such order open.');
  const echo = { eye, lens };
  if (!asked.changed.includes('lens')) {
    if (needBy !== null && needBy < workingDateAfter(receivedAt, 1))
      return refuse('Nothing can leave us in time for that day.');
    return [at(0.5, { type: 'order.change-accepted', orderNumber, change, echo, promisedOn: null })];
  }
  const days = maker.workingDays.min;
  return [
    at(0.5, {
      type: 'order.change-accepted',
      orderNumber,
      change,
      echo,
      promisedOn: workingDateAfter(receivedAt, days + 2),
    }),
    at(days, {
      type: 'order.shipped',
      orderNumber,
      trackingReference: `${maker.code.toUpperCase().slice(0, 4)}-C${change}-${orderNumber.slice(-4)}`,
      expectedOn: workingDateAfter(new Date(receivedAt.getTime() + days * secondsPerDay * 1000), 2),
      unit: makeUnit(maker, asked, receivedAt),
    }),
  ];
}
