import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { OrderPage } from '@lensferry/contracts';
import type { z } from 'zod';
import { openHouse, type House, type Person } from '../support/house.js';
import { orderOf, sceneAt, type Scene } from '../support/scenes.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';

/** What no lens ever took: years with its maker, or a day promised by mistake. */
describe('an order with days that no lens ever took', () => {
  let house: House;
  let root: Superuser;
  let una: Person;
  let usual: Scene;
  let forgotten: Scene;
  let mistaken: Scene;
  beforeAll(async () => {
    house = await openHouse();
    root = await asSuperuser(house.db);
    una = await house.signIn('una');
    usual = await sceneAt(house, 'acknowledged');
    forgotten = await sceneAt(house, 'sent');
    mistaken = await sceneAt(house, 'acknowledged');
    await root.rows(`update lens_order set sent_at = now() - interval '6 years' where id = $1`, [
      forgotten.orderId,
    ]);
    await root.rows(`update lens_order set promised_on = '2199-12-31' where id = $1`, [mistaken.orderId]);
  });
  afterAll(async () => {
    await root?.close();
    await house?.close();
  });

  const listed = async () => {
    const { status, body } = await una.get<z.infer<typeof OrderPage>>('/api/orders?state=sent,acknowledged');
    expect(status).toBe(200);
    return new Map(body.items.map((order) => [order.id, order]));
  };

  it('is listed without a forecast, and the others with theirs', async () => {
    const orders = await listed();
    expect(orders.get(forgotten.orderId)?.forecast).toBeNull();
    expect(orders.get(forgotten.orderId)?.late).toBe(true);
    expect(orders.get(mistaken.orderId)?.forecast).toBeNull();
    expect(orders.get(usual.orderId)?.forecast?.p50).toMatch(/^20/);
  });

  it('is opened, and stands on Today', async () => {
    for (const { orderId, caseId } of [forgotten, mistaken])
      for (const path of [`/api/orders/${orderId}`, `/api/cases/${caseId}`, '/api/today', '/api/makers'])
        expect((await una.get(path)).status, path).toBe(200);
  });

  it('teaches the forecasts of others nothing that breaks them, also when it has come', async () => {
    await root.rows(
      `update lens_order set state = 'accepted', arrived_at = now(), lead_days = 12, promised_days = 45000 where id = $1`,
      [mistaken.orderId],
    );
    expect((await listed()).get(usual.orderId)?.forecast?.p50).toMatch(/^20/);
    const maker = (await orderOf(usual)).makerId;
    for (const path of [`/api/makers/${maker}`, `/api/makers/${maker}/lead-times`])
      expect((await una.get(path)).status, path).toBe(200);
  });
});
