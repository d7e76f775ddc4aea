import type { OrderState, Specification } from '../../packages/domain/src/index.js';
import { as, asMaker, asWorker, type Cast, type Clinic } from '../../apps/api/dist/demo/cast.js';
import { makers } from '../../apps/api/dist/demo/network.js';
import * as scenery from '../../apps/api/dist/demo/order-scene.js';
import { openCase } from '../../apps/api/dist/cases/open-case.js';
import { addMeasurement } from '../../apps/api/dist/cases/measure.js';
import { loadCase } from '../../apps/api/dist/cases/cases.store.js';
import { scheduleTheatre } from '../../apps/api/dist/cases/schedule-theatre.js';
import { savePlan } from '../../apps/api/dist/plans/save-plan.js';
import { openExchange } from '../../apps/api/dist/exchanges/open-exchange.js';
import { settle } from '../../apps/api/dist/dispatch/settle.js';
import { recordImplantation } from '../../apps/api/dist/cases/record-implantation.js';
import {
  askToCancel,
  cancelOrder,
  declineByHand,
  requestChanges,
} from '../../apps/api/dist/orders/move-order.js';
import { loadOrder, type OrderRow } from '../../apps/api/dist/orders/orders.store.js';
import { SetClock } from '../../apps/api/dist/platform/clock.js';
import { receiveLens } from '../../apps/api/dist/receiving/receive-lens.js';
import { rejectLens } from '../../apps/api/dist/stock/decide-quarantine.js';
import { day, eyeMeasurements } from './eye.js';
import type { House } from './house.js';

export type Scene = scenery.Scene & { lensId: string };

/** The house's people and makers, ready to play scenes through the use cases. */
export const castOf = ({ database, network }: House): Cast => ({
  ...network,
  database,
  clock: new SetClock(new Date()),
});

interface Wanted {
  readonly clinic?: Clinic['code'];
  readonly maker?: 'QUILLON' | 'OSTREL' | 'FENNICK';
  readonly codeName?: string;
  readonly eye?: 'OD' | 'OS';
  readonly patient?: string;
  /** A pregnancy or an age that the findings call a stop. */
  readonly birthYear?: number;
}

let scenes = 0;

/** Opens a case and measures its eye, by the use cases; no HTTP, so that many are quick to have. */
export async function openScene(house: House, wanted: Wanted = {}): Promise<Scene> {
  const cast = castOf(house);
  const { clinic: code = 'EST', maker: makerCode = 'QUILLON' } = wanted;
  const clinic = cast.clinics.find((each) => each.code === code)!;
  const number = (scenes += 1);
  const caseId = await as(cast, clinic, 'coordinator', async (work) => {
    const id = await openCase(work, {
      clinicId: clinic.id,
      codeName: wanted.codeName ?? `Scene ${number}`,
      birthYear: wanted.birthYear ?? 1994,
      identity: {
        name: wanted.patient ?? 'Test Person',
        birthDate: '1994-02-03',
        recordNumber: `T-${number}`,
      },
      eye: wanted.eye ?? 'OD',
      surgeonId: clinic.staff.surgeon.personId!,
    });
    for (const measurement of eyeMeasurements()) await addMeasurement(work, id, measurement as never);
    return id;
  });
  return {
    cast,
    clinic,
    maker: cast.makers.find((each) => each.code === makerCode)!,
    demoMaker: makers.find((each) => each.code === makerCode)!,
    caseId,
    orderId: '',
    unit: null,
    lensId: '',
  };
}

export const orderOf = ({ cast, clinic, orderId }: Scene): Promise<OrderRow> =>
  as(cast, clinic, 'coordinator', (work) => loadOrder(work, orderId));

const version = async (scene: Scene): Promise<number> => (await orderOf(scene)).version;
const why = 'The test asks for it.';

async function receive(scene: Scene, outcome: 'accept' | 'quarantine'): Promise<void> {
  const label = await scenery.packOf(scene);
  scene.lensId = await as(scene.cast, scene.clinic, 'inventory', (work) =>
    receiveLens(work, scene.orderId, { label, outcome, location: 'shelf 1', why }),
  );
}

/** What leads to each state of an order, from the state before it. */
const ways: Partial<Record<OrderState, [from: OrderState | null, way: (scene: Scene) => Promise<unknown>]>> =
  {
    draft: [null, (scene) => scenery.plan(scene)],
    submitted: ['draft', scenery.submit],
    changes_requested: [
      'submitted',
      async (scene) => {
        const seen = { version: await version(scene), why };
        await as(scene.cast, scene.clinic, 'surgeon', (work) => requestChanges(work, scene.orderId, seen));
      },
    ],
    approved: ['submitted', scenery.sign],
    queued: ['approved', scenery.place],
    sent: ['queued', (scene) => scenery.send(scene)],
    send_failed: ['queued', (scene) => scenery.send(scene, 'The maker answered 503.')],
    disputed: ['sent', (scene) => scenery.acknowledge(scene, day(-20), true)],
    acknowledged: ['sent', (scene) => scenery.acknowledge(scene, day(-20))],
    cancel_requested: [
      'acknowledged',
      async (scene) => {
        const seen = { version: await version(scene), why };
        await as(scene.cast, scene.clinic, 'coordinator', (work) => askToCancel(work, scene.orderId, seen));
      },
    ],
    change_proposed: [
      'acknowledged',
      async (scene) => {
        const order = await orderOf(scene);
        const { sphereD, cylinderD, axisDeg, lengthMm } = order.specification as unknown as Specification;
        await as(scene.cast, scene.clinic, 'coordinator', (work) =>
          savePlan(work, scene.caseId, {
            target: { sphereD: 0, cylinderD: 0, axisDeg: null },
            designVersionId: order.designVersionId,
            ...{ sphereD, cylinderD, axisDeg, lengthMm: lengthMm + 0.25 },
          }),
        );
      },
    ],
    change_requested: [
      'acknowledged',
      async (scene) => {
        await as(scene.cast, scene.clinic, 'coordinator', async (work) => {
          const { version: seen } = await loadCase(work, scene.caseId);
          await scheduleTheatre(work, scene.caseId, { version: seen, theatreOn: day(-90) });
        });
      },
    ],
    shipped: ['acknowledged', (scene) => scenery.ship(scene, day(0))],
    accepted: ['shipped', (scene) => receive(scene, 'accept')],
    quarantined: ['shipped', (scene) => receive(scene, 'quarantine')],
    rejected: [
      'quarantined',
      (scene) =>
        as(scene.cast, scene.clinic, 'inventory', (work) =>
          rejectLens(work, scene.lensId, { version: 1, why }),
        ),
    ],
    declined: [
      'sent',
      async (scene) => {
        const seen = { version: await version(scene), why };
        await as(scene.cast, scene.clinic, 'coordinator', (work) => declineByHand(work, scene.orderId, seen));
      },
    ],
    cancelled: [
      'draft',
      async (scene) => {
        const seen = { version: await version(scene), why };
        await as(scene.cast, scene.clinic, 'coordinator', (work) => cancelOrder(work, scene.orderId, seen));
      },
    ],
  };

/** The states that a scene can be brought to; `arrived` lasts only within one transaction. */
export const reachable = Object.keys(ways) as OrderState[];

/** Plays a scene on until its order is in a state. */
export async function playTo(scene: Scene, state: OrderState): Promise<Scene> {
  const way = ways[state];
  if (way === undefined) throw new Error(`No way leads to ${state}.`);
  const now = scene.orderId === '' ? null : (await orderOf(scene)).state;
  if (now === state) return scene;
  if (way[0] !== null && way[0] !== now) await playTo(scene, way[0]);
  await way[1](scene);
  return scene;
}

/** A new scene whose order is in a state. */
export const sceneAt = async (house: House, state: OrderState, wanted: Wanted = {}): Promise<Scene> =>
  playTo(await openScene(house, wanted), state);

/** Puts the accepted lens of a scene into the eye, today. */
export async function implant(scene: Scene): Promise<void> {
  const { cast, clinic, caseId, lensId } = scene;
  await as(cast, clinic, 'surgeon', async (work) => {
    const { version: seen } = await loadCase(work, caseId);
    await recordImplantation(work, caseId, {
      version: seen,
      lensId,
      serial: scene.unit!.serial,
      performedOn: day(0),
      axisDeg: 30,
    });
  });
}

/** The dispatch gives up telling the maker of a change, a cancellation, or a return of that id. */
export async function failTelling(
  scene: Scene,
  kind: 'change' | 'cancellation' | 'return',
  outcome: string,
  id = scene.orderId,
): Promise<void> {
  const { number } = await orderOf(scene);
  await asWorker(scene.cast, scene.clinic, (work) =>
    settle(work, {
      parcel: { kind, id, number },
      attempt: { sent: false, final: true, status: 410, outcome },
      ended: true,
      eventId: '019aa000-0000-7000-8000-000000000000',
      clinicId: scene.clinic.id,
      count: 3,
    }),
  );
}

/** Exchanges the lens in the eye for another, today: the first one is explanted then. */
export async function exchangeLens(scene: Scene): Promise<Scene> {
  const { cast, clinic, caseId } = scene;
  await as(cast, clinic, 'surgeon', async (work) => {
    const { version: seen } = await loadCase(work, caseId);
    await openExchange(work, caseId, { version: seen, reason: 'rotation', note: why });
  });
  const round = await playTo({ ...scene, orderId: '', unit: null, lensId: '' }, 'accepted');
  await implant(round);
  return round;
}

export const specificationOf = async (scene: Scene): Promise<Specification> =>
  (await orderOf(scene)).specification as unknown as Specification;

export { as, asMaker, scenery };
