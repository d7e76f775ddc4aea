import { DomainError } from '@lensferry/domain';
import { asMaker, asWorker, type Cast, type Clinic } from '../../../apps/api/dist/demo/cast.js';
import { settle } from '../../../apps/api/dist/dispatch/settle.js';
import { applyMessage } from '../../../apps/api/dist/dispatch/hear-maker.js';
import { password } from '../../support/house.js';
import { day } from '../../support/eye.js';
import type { Hand, Seen, SeenOrder, World } from './world.js';

/** How an attempt ended: taken, refused by a rule, or lost to somebody who was quicker. */
export type Ending = 'taken' | 'refused' | 'conflict';
export interface Tried {
  readonly ending: Ending;
  readonly status: number;
  readonly what: string;
  readonly detail: string;
}
export interface Stage {
  readonly world: World;
  readonly cast: Cast;
  readonly clinic: Clinic;
}

const why = 'The test asks for it.';
export const serialOf = (order: SeenOrder): string => `SN${order.number.replaceAll('-', '')}`;

async function call(
  { world }: Stage,
  hand: Hand,
  url: string,
  body: object,
  ask = world.ask,
): Promise<Tried> {
  const { status, json, text } = await ask('POST', url, { as: world.hands[hand], body });
  const ending = status < 300 ? 'taken' : status === 409 ? 'conflict' : 'refused';
  return {
    ending,
    status,
    what: url.replace(/[0-9a-f-]{36}/, ':id'),
    detail: json?.code ?? text.slice(0, 200),
  };
}

/** Runs a use case of the maker's line or the worker's, as the API and the worker do. */
async function run(what: string, useCase: () => Promise<unknown>): Promise<Tried> {
  try {
    await useCase();
    return { ending: 'taken', status: 200, what, detail: '' };
  } catch (error) {
    // As the problem filter answers them: a rule, a row that somebody else wrote first, "tell us again in a moment".
    const { code = '', kind, status } = error as { code?: string; kind?: string; status?: number };
    const lost = kind === 'conflict' || ['P2002', 'P2034'].includes(code) || status === 503;
    if (kind === undefined && !lost) throw error;
    return { ending: lost ? 'conflict' : 'refused', status: 409, what, detail: code };
  }
}

/** What is read off a pack; `as` says whose serial is on it, to try a pack on another order. */
function pack(order: SeenOrder, as: SeenOrder = order): object {
  const { eye, sphereD, cylinderD, axisDeg, lengthMm, caseCode } = order.specification;
  const serial = serialOf(as);
  return {
    ...{ text: serial, serial, lot: 'L1', expiresOn: day(-700) },
    ...{ eye, sphereD, cylinderD, axisDeg, lengthMm, caseCode },
  };
}

type OnOrder = (stage: Stage, hand: Hand, order: SeenOrder, other: Seen) => Promise<Tried>;
const plain =
  (step: string, more: object = {}): OnOrder =>
  (stage, hand, { id, version }) =>
    call(stage, hand, `/api/orders/${id}/${step}`, { version, ...more });
const reasons = { age: why, pregnancy: why };

async function hear(stage: Stage, order: SeenOrder, message: object): Promise<Tried> {
  const maker = stage.cast.makers.find(({ id }) => id === order.makerId)!;
  const said = { sentAt: new Date().toISOString(), orderNumber: order.number, ...message };
  return run(`maker: ${(message as { type: string }).type}`, () =>
    asMaker(stage.cast, stage.clinic, maker, (work) => applyMessage(work, order.makerId, said as never)),
  );
}

function echo(order: SeenOrder, turnedDeg = 0): object {
  const { eye, designCode, designVersion, sphereD, cylinderD, axisDeg, lengthMm } = order.specification;
  const axis = axisDeg === null ? null : ((Number(axisDeg) + turnedDeg - 1) % 180) + 1;
  return {
    eye: eye === 'OD' ? 'RIGHT' : 'LEFT',
    lens: { designCode, designVersion, sphereD, cylinderD, axisDeg: axis, lengthMm },
  };
}

function attempt(sent: boolean): OnOrder {
  return async (stage, _hand, order) =>
    run(`worker: ${sent ? 'sent' : 'failed'}`, () =>
      asWorker(stage.cast, stage.clinic, async (work) => {
        const event = await work.tx.outboxEvent.findFirst({
          where: { topic: 'order.send', doneAt: null, payload: { path: ['orderId'], equals: order.id } },
        });
        if (event === null) throw new DomainError('conflict', 'test.nothing-to-send', 'Nothing waits.');
        await settle(work, {
          parcel: { kind: 'order', id: order.id, number: order.number },
          attempt: { sent, final: true, status: sent ? 202 : 503, outcome: 'As the test says.' },
          ended: true,
          eventId: event.id,
          clinicId: stage.clinic.id,
          count: 1,
        });
      }),
    );
}

const receive =
  (outcome: 'accept' | 'quarantine', swapped = false): OnOrder =>
  (stage, hand, order, other) =>
    call(stage, hand, `/api/orders/${order.id}/receive`, {
      label: pack(order, swapped && other.order ? other.order : order),
      outcome,
      location: 'shelf 1',
      ...(outcome === 'quarantine' ? { why } : {}),
    });

/** Everything that can be tried on an order, allowed at its state or not. */
export const onOrder: Record<string, OnOrder> = {
  submit: plain('submit'),
  'request-changes': plain('request-changes', { why }),
  sign: (stage, hand, order) =>
    plain('sign', { specificationHash: order.specificationHash, password, reasons })(
      stage,
      hand,
      order,
      null!,
    ),
  'sign-another': plain('sign', { specificationHash: '0'.repeat(64), password, reasons }),
  place: plain('place'),
  deliver: plain('deliver'),
  retry: plain('retry'),
  acknowledge: plain('acknowledge', { promisedOn: day(-20) }),
  promise: plain('promise', { promisedOn: day(-25), why }),
  decline: plain('decline', { why }),
  ship: plain('ship', { tracking: 'PARCEL 1', expectedOn: day(-3) }),
  cancel: plain('cancel', { why }),
  'ask-cancel': plain('ask-cancel', { why }),
  'accept-cancel': plain('accept-cancel'),
  'refuse-cancel': plain('refuse-cancel', { why }),
  'ask-change': plain('ask-change'),
  'sign-change': (stage, hand, order) =>
    plain('sign-change', {
      specificationHash: order.change?.amended?.specificationHash ?? '0'.repeat(64),
      ...{ password, reasons },
    })(stage, hand, order, null!),
  'withdraw-change': plain('withdraw-change'),
  'accept-change': plain('accept-change'),
  'refuse-change': plain('refuse-change', { why }),
  'worker-sends': attempt(true),
  'worker-fails': attempt(false),
  'maker-acknowledges': (stage, _hand, order) =>
    hear(stage, order, { type: 'order.acknowledged', echo: echo(order), promisedOn: day(-20) }),
  'maker-echoes-another': (stage, _hand, order) =>
    hear(stage, order, { type: 'order.acknowledged', echo: echo(order, 9), promisedOn: day(-20) }),
  'maker-declines': (stage, _hand, order) => hear(stage, order, { type: 'order.declined', reason: why }),
  'maker-ships': (stage, _hand, order) =>
    hear(stage, order, {
      type: 'order.shipped',
      trackingReference: 'PARCEL 1',
      expectedOn: day(-3),
      unit: {
        serial: serialOf(order),
        lot: 'L1',
        expiresOn: day(-700),
        gtin: null,
        labelText: serialOf(order),
      },
    }),
  'receive-accept': receive('accept'),
  'receive-quarantine': receive('quarantine'),
  'receive-another-pack': receive('accept', true),
};

type OnCase = (stage: Stage, hand: Hand, seen: Seen, other: Seen) => Promise<Tried>;
const ofCase =
  (step: string, more: object): OnCase =>
  (stage, hand, { caseId, version }) =>
    call(stage, hand, `/api/cases/${caseId}/${step}`, { version, ...more });
const implant =
  (foreign: boolean): OnCase =>
  (stage, hand, { caseId, version, lenses }, other) => {
    const lens = (foreign ? other.lenses : lenses)[0] ?? other.lenses[0];
    return call(stage, hand, `/api/cases/${caseId}/implantation`, {
      ...{ version, lensId: lens?.id ?? caseId, serial: lens?.serial ?? 'NONE' },
      ...{ performedOn: day(0), axisDeg: 30 },
    });
  };

async function plan(stage: Stage, hand: Hand, seen: Seen, step: number): Promise<Tried> {
  const before = seen.order?.planned;
  if (before === undefined) return call(stage, hand, `/api/cases/${seen.caseId}/plan-preview`, {});
  const { lengthMm } = before as { lengthMm: number };
  return call(stage, hand, `/api/cases/${seen.caseId}/plans`, { ...before, lengthMm: lengthMm + step });
}

/** Everything that can be tried on a case and on its lenses and returns. */
export const onCase: Record<string, OnCase> = {
  plan: (stage, hand, seen) => plan(stage, hand, seen, 0),
  'plan-longer': (stage, hand, seen) => plan(stage, hand, seen, 0.25),
  'plan-shorter': (stage, hand, seen) => plan(stage, hand, seen, -0.25),
  'theatre-date': ofCase('theatre-date', { theatreOn: day(-90) }),
  'no-theatre-date': ofCase('theatre-date', { theatreOn: null }),
  implant: implant(false),
  'implant-another': implant(true),
  exchange: ofCase('exchange', { reason: 'vault_high', note: why }),
  'end-exchange': ofCase('exchange/end', { why }),
  close: ofCase('close', { why }),
  withdraw: ofCase('withdraw', { why }),
  ...Object.fromEntries(
    ['release', 'reject', 'discard'].map((step): [string, OnCase] => [
      step,
      (stage, hand, { caseId, lenses: [lens] }) =>
        call(stage, hand, `/api/lenses/${lens?.id ?? caseId}/${step}`, { version: lens?.version ?? 1, why }),
    ]),
  ),
  'start-return': (stage, hand, { caseId, lenses }) => {
    const lens = lenses.find(({ state }) => state === 'explanted') ?? lenses[0];
    return call(stage, hand, `/api/lenses/${lens?.id ?? caseId}/return`, {
      ...{ version: lens?.version ?? 1, reason: 'vault_high' },
    });
  },
  ...Object.fromEntries(
    Object.entries({
      authorise: { authorisation: 'RA-1' },
      'hand-over': { tracking: 'BACK 1' },
      receive: {},
      credit: { amount: '1480.00' },
      'write-off': { why },
    }).map(([step, more]): [string, OnCase] => [
      `return-${step}`,
      (stage, hand, { caseId, returns: [row] }) =>
        call(stage, hand, `/api/returns/${row?.id ?? caseId}/${step}`, {
          version: row?.version ?? 1,
          ...more,
        }),
    ]),
  ),
};
