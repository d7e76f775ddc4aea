import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { OrderDetail, Today } from '@lensferry/contracts';
import { makeAsk } from '../support/ask.js';
import { makerVoice } from '../support/maker-voice.js';
import { openHouse, until, type House, type Person } from '../support/house.js';
import { orderOf, sceneAt, scenery, type Scene } from '../support/scenes.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';

const why = 'The patient has put the operation off for good.';

describe('asking a maker to cancel', () => {
  let house: House;
  let root: Superuser;
  let coordinator: Person;
  let say: Awaited<ReturnType<typeof makerVoice>>;
  beforeAll(async () => {
    house = await openHouse();
    root = await asSuperuser(house.db);
    coordinator = await house.signIn('una');
    say = await makerVoice(house, root, makeAsk(house), 'QUILLON');
  });
  afterAll(async () => {
    await root?.close();
    await house?.close();
  });

  const step = async ({ orderId }: Scene, name: string, body: object, version?: number) => {
    const { body: order } = await coordinator.get<OrderDetail>(`/api/orders/${orderId}`);
    return coordinator.post<OrderDetail>(`/api/orders/${orderId}/${name}`, {
      version: version ?? order.version,
      ...body,
    });
  };
  const asked = async (state: 'sent' | 'acknowledged' = 'acknowledged'): Promise<Scene> => {
    const scene = await sceneAt(house, state);
    const answer = await step(scene, 'ask-cancel', { why });
    expect(answer).toMatchObject({ status: 200, body: { state: 'cancel_requested', note: why } });
    return scene;
  };
  const sentAt = new Date().toISOString();
  const number = async (scene: Scene) => (await orderOf(scene)).number;

  it('leaves the order standing until the maker answers, and shows on the day’s page that it waits', async () => {
    const scene = await asked();
    const events = await root.rows(
      `select payload from outbox_event where topic = 'order.cancel' and done_at is null`,
    );
    expect(events.map(({ payload }) => payload)).toContainEqual({ orderId: scene.orderId });
    const { body: day } = await coordinator.get<Today>('/api/today');
    expect(day.cancelling.map(({ id }) => id)).toContain(scene.orderId);
    const { body: eyeCase } = await coordinator.get<{ stage: string; waiting: object }>(
      `/api/cases/${scene.caseId}`,
    );
    expect(eyeCase).toMatchObject({ stage: 'on_order', waiting: { for: 'cancellation', by: 'maker' } });
    expect((await step(scene, 'ask-cancel', { why })).status).toBe(409);
  });

  it('ends the order and voids its signature when the maker agrees, once', async () => {
    const scene = await asked();
    const message = {
      type: 'order.cancellation-accepted' as const,
      sentAt,
      orderNumber: await number(scene),
    };
    expect((await say(message)).status).toBe(200);
    const { body: order } = await coordinator.get<OrderDetail>(`/api/orders/${scene.orderId}`);
    expect(order.state).toBe('cancelled');
    expect(order.signatures.every(({ voidedAt }) => voidedAt !== null)).toBe(true);
    const { body: eyeCase } = await coordinator.get<{ stage: string }>(`/api/cases/${scene.caseId}`);
    expect(eyeCase.stage).toBe('planning');
    expect((await say(message)).status).toBe(409);
  });

  it('lets the order go on when the maker refuses, and says why', async () => {
    const scene = await asked('sent');
    const orderNumber = await number(scene);
    const reason = 'The lens is in the sterilisation chamber.';
    expect((await say({ type: 'order.cancellation-refused', sentAt, orderNumber, reason })).status).toBe(200);
    const order = await orderOf(scene);
    expect(order).toMatchObject({ state: 'acknowledged', note: reason });
    expect(order.acknowledgedAt).not.toBeNull();
    expect((await step(scene, 'ask-cancel', { why })).body.state).toBe('cancel_requested');
  });

  it('takes what the maker wrote before it read the question, and a lens that was on its way', async () => {
    const scene = await asked('sent');
    await scenery.acknowledge(scene, '2027-03-01');
    expect(await orderOf(scene)).toMatchObject({ state: 'cancel_requested' });
    await scenery.ship(scene, '2026-12-01');
    expect(await orderOf(scene)).toMatchObject({ state: 'shipped' });
    const other = await asked('sent');
    await scenery.acknowledge(other, '2027-03-01', true);
    expect(await orderOf(other)).toMatchObject({ state: 'disputed' });
    expect((await step(other, 'accept-cancel', {})).body.state).toBe('cancelled');
  });

  it('takes the maker’s answer by hand, and nobody else’s', async () => {
    const agreed = await asked();
    const stale = await step(agreed, 'accept-cancel', {}, 1);
    expect(stale).toMatchObject({ status: 409, body: { code: 'order.moved' } });
    const clerk = await house.signIn('oona');
    const { version } = await orderOf(agreed);
    expect((await clerk.post(`/api/orders/${agreed.orderId}/accept-cancel`, { version })).status).toBe(403);
    expect((await step(agreed, 'accept-cancel', {})).body.state).toBe('cancelled');
    const refused = await asked();
    expect((await step(refused, 'refuse-cancel', {})).status).toBe(400);
    expect((await step(refused, 'refuse-cancel', { why: 'They are cutting it.' })).body.state).toBe(
      'acknowledged',
    );
  });

  it('is not possible before the maker has the order, nor once the lens is on its way', async () => {
    for (const state of ['approved', 'shipped', 'accepted'] as const) {
      const answer = await step(await sceneAt(house, state), 'ask-cancel', { why });
      expect(answer, state).toMatchObject({ status: 409, body: { code: 'order.step-not-allowed' } });
    }
  });
});

describe('a question that is really sent', () => {
  let house: House;
  beforeAll(async () => {
    // Slow days, so that the order is still being made when it is asked about.
    house = await openHouse({ dispatching: true, secondsPerDay: 2 });
  });
  afterAll(() => house?.close());

  it('reaches the maker, which agrees and says nothing more of the order', async () => {
    const coordinator = await house.signIn('una');
    const scene = await sceneAt(house, 'approved');
    await scenery.place(scene);
    await until(async () => (await orderOf(scene)).state === 'acknowledged', 'the acknowledgement');
    const { version } = await orderOf(scene);
    await coordinator.post(`/api/orders/${scene.orderId}/ask-cancel`, { version, why });
    await until(async () => (await orderOf(scene)).state === 'cancelled', 'the maker’s consent');
    const { body } = await coordinator.get<OrderDetail>(`/api/orders/${scene.orderId}`);
    expect(body.deliveries.map(({ status }) => status)).toEqual([202, 202]);
  });
});
