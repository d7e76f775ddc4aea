import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { asWorker } from '../../apps/api/dist/demo/cast.js';
import { settleAll, type Settling } from '../../apps/api/dist/dispatch/settle.js';
import { burst, takePace } from '../../apps/api/dist/makers/makers.store.js';
import { takeSteps } from '../../apps/api/dist/orders/orders.store.js';
import { verifyChains } from '../../apps/api/dist/platform/verify-chain.js';
import { openHouse, type House } from '../support/house.js';
import { orderOf, sceneAt, type Scene } from '../support/scenes.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';

const took = { sent: true, final: true, status: 202, outcome: 'The maker has it.' };
const refused = { sent: false, final: true, status: 410, outcome: 'The maker answered 410.' };

describe('attempts that are written down together', () => {
  let house: House;
  let root: Superuser;
  beforeAll(async () => {
    house = await openHouse();
    root = await asSuperuser(house.db);
  });
  afterAll(async () => {
    await root?.close();
    await house?.close();
  });

  const eventOf = async ({ orderId }: Scene): Promise<string> =>
    (
      await root.rows(
        `select id from outbox_event where topic = 'order.send' and payload ->> 'orderId' = $1`,
        [orderId],
      )
    )[0]!['id'];
  const settlingOf = async (scene: Scene, attempt: Settling['attempt']): Promise<Settling> => ({
    parcel: { kind: 'order', id: scene.orderId, number: (await orderOf(scene)).number },
    attempt,
    ended: true,
    eventId: await eventOf(scene),
    clinicId: scene.clinic.id,
    count: 1,
  });
  const stageOf = async ({ caseId }: Scene) =>
    (await root.rows('select stage, awaited, version from eye_case where id = $1', [caseId]))[0]!;
  const said = async ({ orderId }: Scene) =>
    (await root.rows(`select action from audit_entry where order_id = $1 order by seq`, [orderId])).map(
      (row) => row['action'] as string,
    );

  it('leave each order where its own attempt alone would have left it', async () => {
    const alone = await sceneAt(house, 'queued');
    await asWorker(alone.cast, alone.clinic, async (work) =>
      settleAll(work, [await settlingOf(alone, took)]),
    );
    const many: Scene[] = [];
    for (let n = 0; n < 3; n += 1) many.push(await sceneAt(house, 'queued'));
    const [first, second, failing] = many as [Scene, Scene, Scene];
    const all = [
      await settlingOf(first, took),
      await settlingOf(failing, refused),
      await settlingOf(second, took),
      // The same job twice, as after a sweep: written down as an attempt, and no second step.
      await settlingOf(first, took),
    ];
    await asWorker(first.cast, first.clinic, (work) => settleAll(work, all));
    expect(await Promise.all(many.map(async (scene) => (await orderOf(scene)).state))).toEqual([
      'sent',
      'sent',
      'send_failed',
    ]);
    const { forecastAtSending, version, stateSince, sentAt } = await orderOf(second);
    expect(forecastAtSending).not.toBeNull();
    expect(stateSince).toEqual(sentAt);
    expect(version).toBe((await orderOf(alone)).version);
    expect(await stageOf(second)).toEqual(await stageOf(alone));
    expect(await said(first)).toEqual(await said(alone));
    expect(await said(failing)).toContain('order.fail');
    const tries = await root.rows(
      `select order_id, count(*)::int as n from delivery where order_id = any ($1::uuid[]) group by 1`,
      [many.map(({ orderId }) => orderId)],
    );
    expect(Object.fromEntries(tries.map((row) => [row['order_id'], row['n']]))).toEqual({
      [first.orderId]: 2,
      [second.orderId]: 1,
      [failing.orderId]: 1,
    });
    const open = await root.rows(`select 1 from outbox_event where done_at is null and topic = 'order.send'`);
    expect(open).toEqual([]);
    const client = new pg.Client(house.db.superuserUrl);
    await client.connect();
    const chains = await verifyChains(client);
    expect(chains.length).toBeGreaterThan(0);
    expect(chains.flatMap(({ faults }) => faults)).toEqual([]);
    await client.end();
  });

  it('take a step all or none: one order that somebody has moved keeps the others where they were', async () => {
    const [one, moved] = [await sceneAt(house, 'queued'), await sceneAt(house, 'queued')];
    const orders = [await orderOf(one), await orderOf(moved)];
    await root.rows('update lens_order set version = version + 1 where id = $1', [moved.orderId]);
    const step = asWorker(one.cast, one.clinic, (work) =>
      takeSteps(
        work,
        'deliver',
        orders.map((order) => ({ order, data: { sentAt: work.now } })),
      ),
    );
    await expect(step).rejects.toMatchObject({
      code: 'order.moved',
      facts: { version: orders[1]!.version + 1 },
    });
    expect((await orderOf(one)).state).toBe('queued');
  });

  it('take of a maker’s share what is left of it, and say how long the next one waits', async () => {
    const scene = await sceneAt(house, 'queued');
    const { makerId } = await orderOf(scene);
    await root.rows('update maker set sends_per_minute = 1, paced_until = null where id = $1', [makerId]);
    const take = (wanted: number) =>
      asWorker(scene.cast, scene.clinic, (work) => takePace(work, makerId, wanted));
    expect(await take(burst - 2)).toMatchObject({ taken: burst - 2 });
    const rest = await take(burst);
    expect(rest.taken).toBe(2);
    expect(rest.waitMs).toBeGreaterThan(0);
    expect(rest.waitMs).toBeLessThanOrEqual(60_000);
    expect((await take(1)).taken).toBe(0);
  });
});
