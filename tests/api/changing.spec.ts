import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { MakerMessage, type CaseDetail, type OrderDetail, type Today } from '@lensferry/contracts';
import { makeAsk } from '../support/ask.js';
import { day } from '../support/eye.js';
import { openHouse, password, until, type House, type Person } from '../support/house.js';
import { makerVoice } from '../support/maker-voice.js';
import { orderOf, sceneAt, scenery, specificationOf, type Scene } from '../support/scenes.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';

const sentAt = new Date().toISOString();
const plano = { sphereD: 0, cylinderD: 0, axisDeg: null };

/** What people do in these tests, over HTTP. */
function deeds(of: () => { una: Person; ilse: Person }) {
  const show = async (scene: Scene): Promise<OrderDetail> =>
    (await of().una.get<OrderDetail>(`/api/orders/${scene.orderId}`)).body;
  const step = async (scene: Scene, name: string, body: object = {}, who = of().una) =>
    who.post<OrderDetail>(`/api/orders/${scene.orderId}/${name}`, {
      version: (await show(scene)).version,
      ...body,
    });
  const schedule = async ({ caseId }: Scene, theatreOn: string) => {
    const { body } = await of().una.get<CaseDetail>(`/api/cases/${caseId}`);
    return of().una.post(`/api/cases/${caseId}/theatre-date`, { version: body.version, theatreOn });
  };
  /** Plans the same lens in another length. */
  const planAgain = async (scene: Scene, stepMm = 0.25) => {
    const order = await orderOf(scene);
    const { sphereD, cylinderD, axisDeg, lengthMm } = await specificationOf(scene);
    return of().una.post(`/api/cases/${scene.caseId}/plans`, {
      target: plano,
      designVersionId: order.designVersionId,
      sphereD,
      cylinderD,
      axisDeg,
      lengthMm: lengthMm + stepMm,
    });
  };
  const sign = async (scene: Scene) => {
    const { change, stops } = await show(scene);
    const reasons = Object.fromEntries(stops.map(({ code }) => [code, 'Discussed and accepted.']));
    return step(
      scene,
      'sign-change',
      { specificationHash: change?.specificationHash, password, reasons },
      of().ilse,
    );
  };
  return { show, step, schedule, planAgain, sign };
}

const echoOf = (spec: Awaited<ReturnType<typeof specificationOf>>) => {
  const { designCode, designVersion, sphereD, cylinderD, axisDeg, lengthMm } = spec;
  return {
    eye: spec.eye === 'OD' ? 'RIGHT' : 'LEFT',
    lens: { designCode, designVersion, sphereD, cylinderD, axisDeg, lengthMm },
  };
};

describe('changing an order that its maker has', () => {
  let house: House;
  let root: Superuser;
  let una: Person;
  let ilse: Person;
  let say: Awaited<ReturnType<typeof makerVoice>>;
  beforeAll(async () => {
    house = await openHouse();
    root = await asSuperuser(house.db);
    una = await house.signIn('una');
    ilse = await house.signIn('ilse');
    say = await makerVoice(house, root, makeAsk(house), 'QUILLON');
  });
  afterAll(async () => {
    await root?.close();
    await house?.close();
  });
  const { show, step, schedule, planAgain, sign } = deeds(() => ({ una, ilse }));
  const heard = async (scene: Scene, type: string, change: number, more: object) =>
    say(MakerMessage.parse({ type, sentAt, orderNumber: (await orderOf(scene)).number, change, ...more }));

  it('asks for another need-by date, waits, and lets the maker agree once', async () => {
    const scene = await sceneAt(house, 'acknowledged');
    const theatreOn = day(-70);
    expect((await schedule(scene, theatreOn)).status).toBe(200);
    expect(await show(scene)).toMatchObject({
      state: 'change_requested',
      needBy: theatreOn,
      toldNeedBy: null,
      change: { number: 1, kind: 'need-by', needBy: theatreOn, specification: null },
    });
    const { body: today } = await una.get<Today>('/api/today');
    expect(today.changing.map(({ id }) => id)).toContain(scene.orderId);
    const events = await root.rows(`select payload from outbox_event where topic = 'order.change'`);
    expect(events.map(({ payload }) => payload)).toContainEqual({ orderId: scene.orderId });
    const consent = { echo: echoOf(await specificationOf(scene)), promisedOn: day(-40) };
    expect((await heard(scene, 'order.change-accepted', 1, consent)).status).toBe(200);
    const agreed = await show(scene);
    expect(agreed).toMatchObject({
      state: 'acknowledged',
      toldNeedBy: theatreOn,
      promisedOn: day(-40),
      change: null,
    });
    const again = await heard(scene, 'order.change-accepted', 1, consent);
    expect(again).toMatchObject({ status: 409, json: { code: 'order.change-not-awaited' } });
    expect(await show(scene)).toEqual(agreed);
    expect((await step(scene, 'ask-change')).body).toMatchObject({ code: 'order.nothing-to-change' });
  });

  it('keeps the old date with the maker when it refuses, and can ask again', async () => {
    const scene = await sceneAt(house, 'acknowledged');
    await schedule(scene, day(-9));
    const reason = 'Nothing can leave us before that day.';
    expect((await heard(scene, 'order.change-refused', 1, { reason })).status).toBe(200);
    const refused = await show(scene);
    expect(refused).toMatchObject({ state: 'acknowledged', note: reason, toldNeedBy: null, change: null });
    expect(refused.steps).toContain('ask-change');
    expect((await step(scene, 'ask-change')).body).toMatchObject({ change: { number: 2 } });
    // The answer to the first question comes late: it is not taken for one to the second.
    const late = await heard(scene, 'order.change-refused', 1, { reason: 'Too late.' });
    expect(late).toMatchObject({ status: 409, json: { code: 'order.change-not-awaited' } });
    expect((await show(scene)).state).toBe('change_requested');
  });

  it('tells a date that moved before the maker had answered with its acknowledgement', async () => {
    const scene = await sceneAt(house, 'sent');
    await schedule(scene, day(-60));
    expect(await show(scene)).toMatchObject({ state: 'sent', toldNeedBy: null, change: null });
    const orderNumber = (await orderOf(scene)).number;
    const echo = echoOf(await specificationOf(scene));
    const promisedOn = day(-30);
    const said = await say({ type: 'order.acknowledged', sentAt, orderNumber, echo, promisedOn });
    expect(said.status).toBe(200);
    expect(await show(scene)).toMatchObject({
      state: 'change_requested',
      promisedOn,
      change: { number: 1, needBy: day(-60) },
    });
  });

  it('needs a new signature for another specification, and puts it in force when the maker agrees', async () => {
    const scene = await sceneAt(house, 'acknowledged');
    const before = await show(scene);
    expect((await planAgain(scene)).status).toBe(201);
    const proposed = await show(scene);
    expect(proposed).toMatchObject({
      state: 'change_proposed',
      specificationHash: before.specificationHash,
      change: { kind: 'specification', askedAt: null, signedBy: null, differences: [{ field: 'lengthMm' }] },
    });
    const unsigned = await root.rows(
      `select 1 from outbox_event where topic = 'order.change' and payload->>'orderId' = '${scene.orderId}'`,
    );
    expect(unsigned).toEqual([]);
    expect(
      (await step(scene, 'sign-change', { specificationHash: 'f'.repeat(64), password }, ilse)).body,
    ).toMatchObject({ code: 'order.not-what-was-shown' });
    expect(
      (await step(scene, 'sign-change', { specificationHash: 'f'.repeat(64), password })).status,
    ).not.toBe(200);
    expect((await sign(scene)).body).toMatchObject({ state: 'change_requested' });
    const asked = await show(scene);
    expect(asked.specificationHash).toBe(before.specificationHash);
    expect(asked.signatures.filter(({ voidedAt }) => voidedAt === null)).toHaveLength(1);
    const spec = { ...(await specificationOf(scene)), ...asked.change!.specification! };
    const consent = { echo: echoOf(spec as never), promisedOn: null };
    expect((await heard(scene, 'order.change-accepted', 1, consent)).status).toBe(200);
    const after = await show(scene);
    expect(after).toMatchObject({
      state: 'acknowledged',
      specificationHash: proposed.change!.specificationHash,
      promisedOn: before.promisedOn,
    });
    expect(after.specification.lengthMm).toBe(before.specification.lengthMm + 0.25);
    expect(after.signatures.map(({ voidedAt }) => voidedAt === null)).toEqual([false, true]);
    expect(after.signatures.at(-1)?.specificationHash).toBe(after.specificationHash);
  });

  it('leaves the old specification and its signature standing when the maker refuses', async () => {
    const scene = await sceneAt(house, 'acknowledged');
    const before = await show(scene);
    await planAgain(scene);
    await sign(scene);
    await heard(scene, 'order.change-refused', 1, { reason: 'The blank has been cut.' });
    const after = await show(scene);
    expect(after).toMatchObject({
      state: 'acknowledged',
      specificationHash: before.specificationHash,
      note: 'The blank has been cut.',
    });
    expect(after.signatures).toEqual(before.signatures);
    expect(after.steps).toContain('ask-cancel');
  });

  it('stops an order whose echo of the change differs, until a coordinator has cleared it', async () => {
    const scene = await sceneAt(house, 'acknowledged');
    await planAgain(scene);
    await sign(scene);
    const old = { echo: echoOf(await specificationOf(scene)), promisedOn: null };
    expect((await heard(scene, 'order.change-accepted', 1, old)).status).toBe(200);
    const stopped = await show(scene);
    expect(stopped.state).toBe('disputed');
    expect(stopped.steps).toEqual(expect.arrayContaining(['accept-change', 'refuse-change']));
    expect(stopped.steps).not.toContain('acknowledge');
    const unclear = await step(scene, 'acknowledge', { promisedOn: day(-30) });
    expect(unclear).toMatchObject({ status: 409, body: { code: 'order.answer-the-change' } });
    expect((await step(scene, 'accept-change', { promisedOn: day(-30) })).body).toMatchObject({
      state: 'acknowledged',
      specificationHash: stopped.change!.specificationHash,
    });
  });

  it('lets a proposal be changed, withdrawn, and overtaken by the lens', async () => {
    const scene = await sceneAt(house, 'acknowledged');
    await planAgain(scene);
    await planAgain(scene, -0.25);
    expect(await show(scene)).toMatchObject({ state: 'change_proposed', change: { number: 1 } });
    expect((await planAgain(scene, 0)).body).toMatchObject({ code: 'order.nothing-to-change' });
    expect((await step(scene, 'withdraw-change')).body).toMatchObject({
      state: 'acknowledged',
      change: null,
    });
    await planAgain(scene);
    await scenery.ship(scene, day(0));
    expect(await show(scene)).toMatchObject({ state: 'shipped', change: null });
  });

  it('takes the answer by hand where the maker has no channel, and tells nobody by message', async () => {
    const scene = await sceneAt(house, 'acknowledged', { maker: 'FENNICK' });
    await schedule(scene, day(-80));
    const sent = await root.rows(
      `select 1 from outbox_event where topic = 'order.change' and payload->>'orderId' = '${scene.orderId}'`,
    );
    expect((await show(scene)).maker.channel).toBe('by_hand');
    expect(sent).toEqual([]);
    expect((await step(scene, 'refuse-change', {})).status).toBe(400);
    expect((await step(scene, 'accept-change')).body).toMatchObject({
      state: 'acknowledged',
      toldNeedBy: day(-80),
    });
  });
});

describe('a change that is really sent', () => {
  let house: House;
  beforeAll(async () => {
    house = await openHouse({ dispatching: true, secondsPerDay: 2 });
  });
  afterAll(() => house?.close());

  it('reaches the maker, which makes the new lens', async () => {
    const una = await house.signIn('una');
    const ilse = await house.signIn('ilse');
    const { show, planAgain, sign } = deeds(() => ({ una, ilse }));
    const scene = await sceneAt(house, 'approved');
    await scenery.place(scene);
    await until(async () => (await orderOf(scene)).state === 'acknowledged', 'the acknowledgement');
    await planAgain(scene);
    const { change } = await show(scene);
    expect((await sign(scene)).status).toBe(200);
    await until(async () => (await orderOf(scene)).state === 'acknowledged', 'the maker’s consent');
    const order = await show(scene);
    expect(order.specificationHash).toBe(change!.specificationHash);
    expect(order.deliveries.map(({ status }) => status)).toEqual([202, 202]);
  });
});
