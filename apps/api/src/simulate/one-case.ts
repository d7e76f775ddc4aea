import { addWorkingDays } from '@lensferry/calculation';
import { withdrawCase } from '../cases/end-case.js';
import { addMeasurement } from '../cases/measure.js';
import { openCase } from '../cases/open-case.js';
import { loadCase } from '../cases/cases.store.js';
import { scheduleTheatre } from '../cases/schedule-theatre.js';
import { as, asMaker, type Cast, type Clinic } from '../demo/cast.js';
import { firstVisit, refractionOf } from '../demo/eyes.js';
import { makers } from '../demo/network.js';
import {
  acknowledge,
  agreeToChange,
  decline,
  packOf,
  place,
  plan,
  send,
  ship,
  sign,
  submit,
  type Scene,
} from '../demo/order-scene.js';
import { plants } from '../demo/stories.js';
import { applyMessage } from '../dispatch/hear-maker.js';
import { changePromise, declineByHand, retryOrder } from '../orders/move-order.js';
import { showOrder } from '../orders/orders.queries.js';
import { loadOrder, type OrderRow } from '../orders/orders.store.js';
import { daysBetween, fromDate, plusDays } from '../platform/plain-date.js';
import { receiveLens } from '../receiving/receive-lens.js';
import { rejectLens } from '../stock/decide-quarantine.js';
import type { Agenda } from './agenda.js';
import { assumptions } from './assumptions.js';
import { clinicDay, type Calendars } from './calendar.js';
import type { Chance } from './chance.js';
import { fateOf, type Fate } from './maker-fate.js';
import type { Tally } from './tally.js';
import { trueEye, type TrueEye } from './true-eye.js';
import { operate, sendBackAll } from './after-arrival.js';

/** What all cases of the year share. */
export interface World {
  readonly cast: Cast;
  readonly agenda: Agenda;
  readonly calendars: Calendars;
  readonly tally: Tally;
}

/** One eye on its way through the year. */
export interface OneCase {
  readonly world: World;
  readonly scene: Scene;
  readonly chance: Chance;
  readonly eye: TrueEye;
  /** The first theatre date that the tool proposed, and when its first order was sent. */
  firstTheatreOn: string | null;
  firstSentOn: string | null;
  /** The first order's own fate, which the plain habit meets too. */
  firstFate: (Fate & { quotedDays: number }) | null;
  counted: boolean;
}

export const today = ({ world }: OneCase): string => world.cast.clock.now().toISOString().slice(0, 10);
export const later = (one: OneCase, days: number): string => clinicDay(one.world.calendars, today(one), days);
const order = ({ scene }: OneCase): Promise<OrderRow> =>
  as(scene.cast, scene.clinic, 'coordinator', (work) => loadOrder(work, scene.orderId));

/** Puts a new eye on the agenda of a day. */
export function beginCase(world: World, clinic: Clinic, index: number, chance: Chance, day: string): void {
  const demoMaker = chance.pick(makers);
  const maker = world.cast.makers.find(({ code }) => code === demoMaker.code);
  if (maker === undefined) throw new Error(`There is no maker ${demoMaker.code}.`);
  const one: OneCase = {
    world,
    scene: { cast: world.cast, clinic, maker, demoMaker, caseId: '', orderId: '', unit: null },
    chance,
    eye: trueEye(chance),
    firstTheatreOn: null,
    firstSentOn: null,
    firstFate: null,
    counted: false,
  };
  world.agenda.on(day, 8, () => open(one, index));
}

async function open(one: OneCase, index: number): Promise<void> {
  const { world, scene, chance, eye } = one;
  const { cast, clinic } = scene;
  const day = today(one);
  await as(cast, clinic, 'coordinator', async (work) => {
    scene.caseId = await openCase(work, {
      clinicId: clinic.id,
      codeName: `${plants[index % plants.length] ?? 'Bracken'} ${100 + index}`,
      birthYear: work.now.getUTCFullYear() - chance.whole(24, 38),
      eye: index % 2 === 0 ? 'OD' : 'OS',
      surgeonId: clinic.staff.surgeon.personId ?? '',
    });
    await addMeasurement(work, scene.caseId, {
      kind: 'procedure',
      takenOn: day,
      device: 'letter',
      values: { procedure: 'cross_linking', performedOn: plusDays(day, -chance.whole(400, 1100)) },
    } as never);
    for (const input of firstVisit(eye.measured, day)) await addMeasurement(work, scene.caseId, input);
  });
  world.tally.add('cases');
  if (chance.happens(assumptions.withdrawn))
    return void world.agenda.on(later(one, 8), 9, () => withdraw(one));
  world.agenda.on(later(one, 10), 9, async () => {
    const visit = refractionOf(eye.measured, today(one), chance.happens(0.5) ? 1 : 0);
    await as(cast, clinic, 'coordinator', (work) => addMeasurement(work, scene.caseId, visit));
    world.agenda.on(later(one, 1), 9, () => orderLens(one));
  });
}

async function withdraw({ scene, world }: OneCase): Promise<void> {
  const { cast, clinic, caseId } = scene;
  await as(cast, clinic, 'coordinator', async (work) => {
    const { version } = await loadCase(work, caseId);
    await withdrawCase(work, caseId, { version, why: 'The patient is content with scleral lenses.' });
  });
  world.tally.add('withdrawn');
}

/** Plans with the scene's maker and takes the order as far as the maker. */
export async function orderLens(one: OneCase): Promise<void> {
  const { world, scene } = one;
  await plan(scene);
  const demoMaker = makers.find(({ code }) => code === scene.maker.code);
  if (demoMaker !== undefined) Object.assign(scene, { demoMaker });
  await submit(scene);
  world.agenda.on(later(one, 1), 10, async () => {
    await sign(scene);
    await place(scene);
    await sendOrder(one, one.chance.happens(assumptions.sendFails));
  });
}

async function sendOrder(one: OneCase, fails: boolean): Promise<void> {
  const { world, scene, chance, calendars } = { ...one, ...one.world };
  const { channel } = scene.demoMaker;
  if (fails && channel === 'https') {
    await send(scene, 'The maker answered 503: order desk closed for maintenance.');
    world.tally.add('sendings that failed');
    world.agenda.on(later(one, 1), 8, async () => {
      const { version } = await order(one);
      await as(scene.cast, scene.clinic, 'coordinator', (work) =>
        retryOrder(work, scene.orderId, { version }),
      );
      await sendOrder(one, false);
    });
    return;
  }
  await send(scene);
  world.tally.add('orders sent');
  const row = await order(one);
  const fate = fateOf(
    chance,
    { makerCode: scene.maker.code, quotedDays: row.quotedDays, sentOn: today(one) },
    calendars,
  );
  if (one.firstSentOn === null) {
    one.firstSentOn = today(one);
    one.firstFate = { ...fate, quotedDays: row.quotedDays };
  }
  await bookTheatre(one);
  meetFate(one, fate);
}

/** Books the first theatre date that the tool gives a chance of 95 %. */
export async function bookTheatre(one: OneCase): Promise<void> {
  const { scene, world } = one;
  const { cast, clinic, caseId, orderId } = scene;
  const shown = await as(cast, clinic, 'coordinator', (work) => showOrder(work, orderId));
  const waiting = ['sent', 'acknowledged', 'shipped'].includes(shown.state);
  const theatreOn =
    shown.state === 'accepted' ? later(one, 5) : waiting ? shown.forecast?.earliestTheatreOn : undefined;
  if (theatreOn === undefined || theatreOn === null) return;
  await as(cast, clinic, 'coordinator', async (work) => {
    const { version } = await loadCase(work, caseId);
    await scheduleTheatre(work, caseId, { version, theatreOn });
  });
  await agreeToChange(scene);
  one.firstTheatreOn ??= theatreOn;
  world.agenda.on(theatreOn, 8, () => operate(one, theatreOn));
}

function meetFate(one: OneCase, fate: Fate): void {
  const { world, scene } = one;
  const { agenda, tally } = world;
  if (fate.kind === 'declined') {
    agenda.on(fate.acknowledgedOn, 14, async () => {
      if (scene.demoMaker.channel === 'https') await decline(scene, 'Our lathe is out of order this month.');
      else await declineAsHeard(one, 'The bench wrote that it is full.');
      tally.add('orders declined');
      agenda.on(later(one, 1), 9, () => orderElsewhere(one));
    });
    return;
  }
  if (fate.kind === 'forgotten') {
    // Nobody at the maker knows of it: the alert past the quoted time makes the coordinator ask.
    agenda.on(addWorkingDays(fate.promisedOn, 2, world.calendars.clinic), 9, async () => {
      const shown = await as(scene.cast, scene.clinic, 'coordinator', (work) =>
        showOrder(work, scene.orderId),
      );
      if (!shown.late)
        tally.problems.push(`Order ${shown.number} was silent past its date and not called late.`);
      await declineAsHeard(one, 'Asked by telephone: the order was never entered there.');
      tally.add('orders forgotten by the maker');
      await orderElsewhere(one);
    });
    return;
  }
  agenda.on(fate.acknowledgedOn, 9, () => acknowledge(scene, fate.promisedOn));
  if (fate.warnsOn !== null && fate.warnsOn > fate.acknowledgedOn && fate.warnsOn < fate.shippedOn)
    agenda.on(fate.warnsOn, 9, () => warn(one, fate.arrivesOn));
  agenda.on(fate.shippedOn, 15, () => ship(scene, today(one)));
  agenda.on(fate.arrivesOn, 10, () => takeIn(one, fate.damaged));
}

async function declineAsHeard({ scene }: OneCase, why: string): Promise<void> {
  await as(scene.cast, scene.clinic, 'coordinator', async (work) => {
    const { version } = await loadOrder(work, scene.orderId);
    await declineByHand(work, scene.orderId, { version, why });
  });
}

/** Another maker gets the order. */
async function orderElsewhere(one: OneCase): Promise<void> {
  const { scene, chance } = one;
  const others = scene.cast.makers.filter(({ id }) => id !== scene.maker.id);
  Object.assign(scene, { maker: chance.pick(others) });
  await orderLens(one);
}

async function warn(one: OneCase, promisedOn: string): Promise<void> {
  const { scene, world } = one;
  const row = await order(one);
  if (row.state !== 'acknowledged') return;
  const reason = 'A blank failed inspection and is made again.';
  if (scene.demoMaker.channel === 'by_hand')
    await as(scene.cast, scene.clinic, 'coordinator', (work) =>
      changePromise(work, row.id, { version: row.version, promisedOn, why: reason }),
    );
  else
    await asMaker(scene.cast, scene.clinic, scene.maker, (work) =>
      applyMessage(work, row.makerId, {
        type: 'order.promise-changed',
        sentAt: work.now.toISOString(),
        orderNumber: row.number,
        promisedOn,
        reason,
      }),
    );
  world.tally.add('promises moved');
}

/** The parcel is opened: accepted, or quarantined, rejected and ordered again. */
async function takeIn(one: OneCase, damaged: boolean): Promise<void> {
  const { scene, world } = one;
  const { cast, clinic, orderId } = scene;
  const label = await packOf(scene);
  const lensId = await as(cast, clinic, 'inventory', (work) =>
    receiveLens(work, orderId, {
      label,
      outcome: damaged ? 'quarantine' : 'accept',
      location: damaged ? 'quarantine tray' : 'shelf 1',
      ...(damaged ? { why: 'The outer pack is crushed and the seal is broken.' } : {}),
    }),
  );
  world.tally.add('lenses received');
  if (!damaged) return afterAccepting(one);
  world.tally.add('packs damaged');
  world.agenda.on(later(one, 1), 9, async () => {
    await as(cast, clinic, 'inventory', async (work) => {
      const lens = await work.tx.lensUnit.findFirstOrThrow({ where: { id: lensId } });
      await rejectLens(work, lensId, { version: lens.version, why: 'The seal is broken.' });
    });
    sendBackAll(one);
    await orderLens(one);
  });
}

/** A lens that is here after its theatre date was lost gets a new one soon. */
async function afterAccepting(one: OneCase): Promise<void> {
  const { cast, clinic, caseId } = one.scene;
  const row = await as(cast, clinic, 'coordinator', (work) => loadCase(work, caseId));
  if (row.theatreOn === null || fromDate(row.theatreOn) < later(one, assumptions.handlingDays))
    await bookTheatre(one);
}

/** Compares the first order with what the plain habit would have met; once for each case. */
export function countWaiting(one: OneCase, toolMissed: boolean, operatedOn: string): void {
  const { firstFate, firstSentOn, firstTheatreOn, world } = one;
  if (one.counted || firstFate === null || firstSentOn === null || firstTheatreOn === null) return;
  one.counted = true;
  const { maker, clinic } = world.calendars;
  const quotedFor = addWorkingDays(firstSentOn, firstFate.quotedDays, maker);
  const habitOn = clinicDay(world.calendars, quotedFor, assumptions.handlingDays);
  const readyOn = addWorkingDays(firstFate.arrivesOn, assumptions.handlingDays, clinic);
  const habitMissed = firstFate.kind !== 'made' || firstFate.damaged || readyOn > habitOn;
  world.tally.waits.push({
    toolDays: daysBetween(firstSentOn, firstTheatreOn),
    habitDays: daysBetween(firstSentOn, habitOn),
    toolMissed,
    habitMissed,
  });
  void operatedOn;
}
