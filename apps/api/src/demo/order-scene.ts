import type { LabelEntry, OrderDetail, ShippedUnit } from '@lensferry/contracts';
import {
  eyeInCapitals,
  gs1CheckDigit,
  writeGs1Label,
  writeHibcLabel,
  type Specification,
} from '@lensferry/domain';
import { savePlan } from '../plans/save-plan.js';
import { computePlan } from '../plans/compute-plan.js';
import { loadCase } from '../cases/cases.store.js';
import { settle } from '../dispatch/settle.js';
import { applyMessage } from '../dispatch/hear-maker.js';
import {
  acknowledgeByHand,
  changePromise,
  markDelivered,
  placeOrder,
  shipByHand,
  submitOrder,
} from '../orders/move-order.js';
import { acceptChangeByHand } from '../orders/change-order.js';
import { changeOf } from '../orders/order-change.js';
import { orderedLens } from '../dispatch/order-document.js';
import { showOrder } from '../orders/orders.queries.js';
import { loadOrder, type OrderRow } from '../orders/orders.store.js';
import { signOrder } from '../orders/sign-order.js';
import { plusDays } from '../platform/plain-date.js';
import { as, asMaker, asWorker, type Cast, type Clinic, type Maker } from './cast.js';
import type { DemoMaker } from './network.js';

/** One case on the stage: who plays, and the identifiers as they come to be. */
export interface Scene {
  readonly cast: Cast;
  readonly clinic: Clinic;
  readonly maker: Maker;
  readonly demoMaker: DemoMaker;
  caseId: string;
  orderId: string;
  unit: ShippedUnit | null;
}

const order = ({ cast, clinic, orderId }: Scene): Promise<OrderRow> =>
  as(cast, clinic, 'coordinator', (work) => loadOrder(work, orderId));

/** Plans with the best lens of the scene's maker, in the size the plan suggests, and opens the order. */
export async function plan(scene: Scene, sizeStep = 0): Promise<void> {
  const { cast, clinic, maker, caseId } = scene;
  scene.orderId = await as(cast, clinic, 'coordinator', async (work) => {
    const target = { sphereD: 0, cylinderD: 0, axisDeg: null };
    const result = await computePlan(work, await loadCase(work, caseId), { target });
    const option = result.options.find(({ makerName }) => makerName === maker.name) ?? result.options[0];
    if (option === undefined)
      throw new Error('No maker of the demo can make this lens; widen the demo’s ranges.');
    const sizing = result.sizing.find(({ designVersionId }) => designVersionId === option.designVersionId);
    const lengths = sizing?.sizes.map(({ lengthMm }) => lengthMm) ?? [];
    const suggested = lengths.indexOf(sizing?.suggestedLengthMm ?? 0);
    const lengthMm = lengths[Math.min(lengths.length - 1, Math.max(0, suggested + sizeStep))] ?? 12.5;
    const { designVersionId, sphereD, cylinderD, axisDeg } = option;
    return savePlan(work, caseId, { target, designVersionId, sphereD, cylinderD, axisDeg, lengthMm });
  });
  await follow(scene);
}

/** The plan may have fallen to another maker, where the scene's own can't make the lens. */
async function follow(scene: Scene): Promise<void> {
  const { makerId } = await order(scene);
  const maker = scene.cast.makers.find(({ id }) => id === makerId);
  if (maker !== undefined && maker.id !== scene.maker.id) Object.assign(scene, { maker });
}

export async function submit(scene: Scene): Promise<void> {
  const { version } = await order(scene);
  await as(scene.cast, scene.clinic, 'coordinator', (work) => submitOrder(work, scene.orderId, { version }));
}

export async function sign(scene: Scene): Promise<void> {
  const { cast, clinic, orderId } = scene;
  const shown: OrderDetail = await as(cast, clinic, 'surgeon', (work) => showOrder(work, orderId));
  const reasons = Object.fromEntries(
    shown.stops.map(({ code }) => [
      code,
      'Discussed with the patient, who has no better way; accepted knowingly.',
    ]),
  );
  await as(cast, clinic, 'surgeon', (work) =>
    signOrder(work, orderId, {
      version: shown.version,
      specificationHash: shown.specificationHash,
      password: cast.password,
      reasons,
    }),
  );
}

export async function place(scene: Scene): Promise<void> {
  const { version } = await order(scene);
  await as(scene.cast, scene.clinic, 'coordinator', (work) => placeOrder(work, scene.orderId, { version }));
}

const byHand = (scene: Scene, row: OrderRow): boolean =>
  scene.cast.makers.find(({ id }) => id === row.makerId)?.code === 'FENNICK';

/** The order reaches its maker, or after some attempts does not. */
export async function send(scene: Scene, failure?: string): Promise<void> {
  const { cast, clinic, orderId } = scene;
  const row = await order(scene);
  if (byHand(scene, row)) {
    await as(cast, clinic, 'coordinator', (work) => markDelivered(work, orderId, { version: row.version }));
    return;
  }
  await asWorker(cast, clinic, async (work) => {
    const event = await work.tx.outboxEvent.findFirstOrThrow({
      where: { topic: 'order.send', doneAt: null, payload: { path: ['orderId'], equals: orderId } },
    });
    const parcel = { kind: 'order' as const, id: orderId, number: row.number };
    const attempt =
      failure === undefined
        ? { sent: true, final: true, status: 202, outcome: 'The maker has it.' }
        : { sent: false, final: true, status: 503, outcome: failure };
    await settle(work, {
      parcel,
      attempt,
      ended: true,
      eventId: event.id,
      clinicId: clinic.id,
      count: failure === undefined ? 1 : 6,
    });
  });
}

/** The maker acknowledges; with `differently`, it echoes another axis than the one ordered. */
export async function acknowledge(scene: Scene, promisedOn: string, differently = false): Promise<void> {
  const { cast, clinic, maker, orderId } = scene;
  const row = await order(scene);
  if (byHand(scene, row)) {
    await as(cast, clinic, 'coordinator', (work) =>
      acknowledgeByHand(work, orderId, { version: row.version, promisedOn }),
    );
    return agreeToChange(scene);
  }
  const spec = row.specification as unknown as Specification;
  const axisDeg = differently && spec.axisDeg !== null ? ((spec.axisDeg + 89) % 180) + 1 : spec.axisDeg;
  const { designCode, designVersion, sphereD, cylinderD, lengthMm } = spec;
  await asMaker(cast, clinic, maker, (work) =>
    applyMessage(work, row.makerId, {
      type: 'order.acknowledged',
      sentAt: work.now.toISOString(),
      orderNumber: row.number,
      echo: {
        eye: spec.eye === 'OD' ? 'RIGHT' : 'LEFT',
        lens: { designCode, designVersion, sphereD, cylinderD, axisDeg, lengthMm },
      },
      promisedOn,
    }),
  );
  await agreeToChange(scene);
}

/** The maker sees that the lens will be late, and promises another day before the first one has passed. */
export async function promiseAnew(scene: Scene, promisedOn: string): Promise<void> {
  const { cast, clinic, maker, orderId } = scene;
  const row = await order(scene);
  const reason = 'A blank did not pass the check after polishing; another one is on the lathe.';
  if (byHand(scene, row)) {
    await as(cast, clinic, 'coordinator', (work) =>
      changePromise(work, orderId, { version: row.version, promisedOn, why: reason }),
    );
    return;
  }
  await asMaker(cast, clinic, maker, (work) =>
    applyMessage(work, row.makerId, {
      type: 'order.promise-changed',
      sentAt: work.now.toISOString(),
      orderNumber: row.number,
      promisedOn,
      reason,
    }),
  );
}

/** A maker that was told of another need-by date agrees to it; nothing happens when it was not told. */
export async function agreeToChange(scene: Scene): Promise<void> {
  const { cast, clinic, maker, orderId } = scene;
  if (orderId === '') return;
  const row = await order(scene);
  const change = changeOf(row)?.number;
  if (row.state !== 'change_requested' || change === undefined) return;
  if (byHand(scene, row)) {
    await as(cast, clinic, 'coordinator', (work) =>
      acceptChangeByHand(work, orderId, { version: row.version }),
    );
    return;
  }
  await asWorker(cast, clinic, async ({ tx, now }) => {
    await tx.outboxEvent.updateMany({
      where: { topic: 'order.change', doneAt: null, payload: { path: ['orderId'], equals: orderId } },
      data: { doneAt: now },
    });
  });
  const spec = row.specification as unknown as Specification;
  await asMaker(cast, clinic, maker, (work) =>
    applyMessage(work, row.makerId, {
      type: 'order.change-accepted',
      sentAt: work.now.toISOString(),
      orderNumber: row.number,
      change,
      echo: { eye: eyeInCapitals[spec.eye], lens: orderedLens(spec) },
      promisedOn: null,
    }),
  );
}

export async function decline(scene: Scene, reason: string): Promise<void> {
  const { cast, clinic, maker } = scene;
  const row = await order(scene);
  await asMaker(cast, clinic, maker, (work) =>
    applyMessage(work, row.makerId, {
      type: 'order.declined',
      sentAt: work.now.toISOString(),
      orderNumber: row.number,
      reason,
    }),
  );
}

/** The maker ships; the pack is labelled in its own scheme. `daysToExpiry` counts from the day of shipping. */
export async function ship(scene: Scene, day: string, daysToExpiry = 1000): Promise<void> {
  const { cast, clinic, orderId } = scene;
  const row = await order(scene);
  const unit = labelled(scene, row, day, plusDays(day, daysToExpiry));
  scene.unit = unit;
  const expectedOn = plusDays(day, 3);
  const tracking = `PARCEL ${row.number.slice(3)}`;
  if (byHand(scene, row)) {
    await as(cast, clinic, 'coordinator', (work) =>
      shipByHand(work, orderId, { version: row.version, tracking, expectedOn }),
    );
    return;
  }
  await asMaker(cast, clinic, scene.maker, (work) =>
    applyMessage(work, row.makerId, {
      type: 'order.shipped',
      sentAt: work.now.toISOString(),
      orderNumber: row.number,
      trackingReference: tracking,
      expectedOn,
      unit,
    }),
  );
}

function labelled(scene: Scene, row: OrderRow, madeOn: string, expiresOn: string): ShippedUnit {
  const spec = row.specification as unknown as Specification;
  const maker = scene.cast.makers.find(({ id }) => id === row.makerId) ?? scene.maker;
  const serial = `${maker.code.slice(0, 4)}${row.number.replaceAll('-', '')}`;
  const lot = `${madeOn.slice(2, 4)}${madeOn.slice(5, 7)}A${madeOn.slice(8)}`;
  const { sphereD, cylinderD, axisDeg, lengthMm, caseCode } = spec;
  const eye = spec.eye === 'OD' ? ('RIGHT' as const) : ('LEFT' as const);
  if (scene.demoMaker.labelScheme === 'gs1' && maker.code === scene.demoMaker.code) {
    const body = `0${scene.demoMaker.gtinPrefix ?? ''}00001`;
    const gtin = body + gs1CheckDigit(body);
    const labelText = writeGs1Label({
      gtin,
      serial,
      lot,
      expiresOn,
      madeOn,
      lens: { eye, sphereD, cylinderD, axisDeg, lengthMm, caseCode },
    });
    return { serial, lot, expiresOn, gtin, labelText };
  }
  const product = spec.designCode.replaceAll('-', '');
  const labelText =
    maker.code === 'OSTREL'
      ? writeHibcLabel({ labeller: 'HOST', product, serial, lot, expiresOn, madeOn })
      : serial;
  return { serial, lot, expiresOn, gtin: null, labelText };
}

/** What stands on the pack: the code, and in plain print whatever the code leaves out. */
export async function packOf(scene: Scene): Promise<LabelEntry> {
  const { unit } = scene;
  const row = await order(scene);
  const { eye, sphereD, cylinderD, axisDeg, lengthMm, caseCode } =
    row.specification as unknown as Specification;
  if (unit === null) throw new Error('Nothing was shipped.');
  return {
    text: unit.labelText,
    serial: unit.serial,
    expiresOn: unit.expiresOn,
    lot: unit.lot,
    eye,
    sphereD,
    cylinderD,
    axisDeg,
    lengthMm,
    caseCode,
  };
}
