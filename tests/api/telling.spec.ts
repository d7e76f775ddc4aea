import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { OrderDetail, ReturnSummary, Today } from '@lensferry/contracts';
import { openHouse, type House, type Person } from '../support/house.js';
import { failTelling, sceneAt, type Scene } from '../support/scenes.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';

describe('telling a maker of a change or a cancellation', () => {
  let house: House;
  let root: Superuser;
  let una: Person;
  let oona: Person;
  beforeAll(async () => {
    house = await openHouse();
    root = await asSuperuser(house.db);
    [una, oona] = await Promise.all([house.signIn('una'), house.signIn('oona')]);
  });
  afterAll(async () => {
    await root?.close();
    await house?.close();
  });

  const show = async ({ orderId }: Scene) => (await una.get<OrderDetail>(`/api/orders/${orderId}`)).body;
  const step = async (scene: Scene, name: string, more: object = {}, who = una) => {
    const { version } = await show(scene);
    return who.post<OrderDetail & { code: string }>(`/api/orders/${scene.orderId}/${name}`, {
      version,
      ...more,
    });
  };
  const waits = async ({ orderId }: Scene) =>
    (await una.get<Today>('/api/today')).body.toTell.some(({ id }) => id === orderId);
  const how = 'By telephone, with the bench.';

  it('waits on the worklist for a person where the maker takes no messages, and is told once', async () => {
    const scene = await sceneAt(house, 'cancel_requested', { maker: 'FENNICK' });
    expect(await show(scene)).toMatchObject({ telling: { state: 'by_hand' } });
    expect(await waits(scene)).toBe(true);
    expect((await step(scene, 'told', { how }, oona)).status).toBe(403);
    expect(await step(scene, 'tell-again')).toMatchObject({ body: { code: 'order.told-by-hand' } });
    const told = await step(scene, 'told', { how });
    expect(told.body).toMatchObject({ state: 'cancel_requested', telling: { state: 'told', why: how } });
    expect(told.body.telling!.by).toMatch(/Una/);
    expect(told.body.history.map(({ action }) => action)).toContain('order.told');
    expect(await waits(scene)).toBe(false);
    expect(await step(scene, 'told', { how })).toMatchObject({
      status: 409,
      body: { code: 'order.nothing-to-tell' },
    });
    // The maker's answer is still awaited, and ends it.
    expect((await step(scene, 'accept-cancel')).body).toMatchObject({ state: 'cancelled', telling: null });
  });

  it('comes back to the worklist with the reason when a sending failed for good, and can be sent again', async () => {
    for (const [state, kind, topic] of [
      ['cancel_requested', 'cancellation', 'order.cancel'],
      ['change_requested', 'change', 'order.change'],
    ] as const) {
      const scene = await sceneAt(house, state);
      expect((await show(scene)).telling).toBeNull();
      expect(await waits(scene)).toBe(false);
      await failTelling(scene, kind, 'The maker answered 410.');
      expect((await show(scene)).telling).toMatchObject({ state: 'failed', why: 'The maker answered 410.' });
      expect(await waits(scene)).toBe(true);
      const asked = async () =>
        (await root.rows(`select payload from outbox_event where topic = '${topic}'`)).filter(
          ({ payload }) => (payload as { orderId: string }).orderId === scene.orderId,
        ).length;
      expect(await asked()).toBe(1);
      expect((await step(scene, 'tell-again')).body).toMatchObject({ state, telling: null });
      expect(await asked()).toBe(2);
      expect(await waits(scene)).toBe(false);
    }
  });

  it('lets a person hand over an order that could not be sent, and lists by-hand orders that wait', async () => {
    const failed = await sceneAt(house, 'send_failed');
    expect((await show(failed)).steps).toEqual(expect.arrayContaining(['retry', 'deliver']));
    expect((await step(failed, 'deliver')).body).toMatchObject({ state: 'sent', note: null });
    const byHand = await sceneAt(house, 'queued', { maker: 'FENNICK' });
    expect(await waits(byHand)).toBe(true);
    const byMessage = await sceneAt(house, 'queued');
    expect(await waits(byMessage)).toBe(false);
    expect(await step(byMessage, 'deliver')).toMatchObject({ body: { code: 'order.sent-by-message' } });
  });

  it('keeps on the return whether its maker knows of it, until the maker answers', async () => {
    const startOf = async (maker: 'QUILLON' | 'FENNICK') => {
      const scene = await sceneAt(house, 'quarantined', { maker });
      const at = `/api/lenses/${scene.lensId}`;
      const { body: lens } = await oona.get<{ version: number }>(at);
      const ilse = await house.signIn('ilse');
      await ilse.post(`${at}/reject`, { version: lens.version, why: 'Not what was ordered.' });
      const { body: now } = await oona.get<{ version: number }>(at);
      return (await oona.post<ReturnSummary>(`${at}/return`, { version: now.version, reason: 'wrong_lens' }))
        .body;
    };
    const say = (name: string, { id, version }: ReturnSummary, more: object = {}, who = oona) =>
      who.post<ReturnSummary & { code: string }>(`/api/returns/${id}/${name}`, { version, ...more });
    const byHand = await startOf('FENNICK');
    expect(byHand.telling).toMatchObject({ state: 'by_hand' });
    expect((await say('tell-again', byHand)).body.code).toBe('return.told-by-hand');
    const told = (await say('told', byHand, { how })).body;
    expect(told).toMatchObject({ state: 'requested', telling: { state: 'told', why: how } });
    expect((await say('told', told, { how })).body.code).toBe('return.nothing-to-tell');
    const allowed = (await say('authorise', told, { authorisation: 'RA-7' })).body;
    expect(allowed).toMatchObject({ state: 'authorised', telling: null });

    const byMessage = await startOf('QUILLON');
    expect(byMessage.telling).toBeNull();
    await failTelling(await sceneAt(house, 'draft'), 'return', 'The maker answered 410.', byMessage.id);
    const failed = (await oona.get<ReturnSummary>(`/api/returns/${byMessage.id}`)).body;
    expect(failed.telling).toMatchObject({ state: 'failed', why: 'The maker answered 410.' });
    const row = (await oona.get<Today>('/api/today')).body.returns.find(({ id }) => id === byMessage.id);
    expect(row?.telling?.state).toBe('failed');
    const again = (await say('tell-again', failed)).body;
    expect(again.telling).toBeNull();
    const sent = await root.rows(`select payload from outbox_event where topic = 'return.send'`);
    const mine = sent.filter(({ payload }) => (payload as { returnId: string }).returnId === byMessage.id);
    expect(mine).toHaveLength(2);
  });
});
