import { createServer, type Server } from 'node:http';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { burst } from '../../apps/api/dist/makers/makers.store.js';
import { openHouse, until, type House } from '../support/house.js';
import { orderOf, playTo, sceneAt, scenery, type Scene } from '../support/scenes.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';

/** A maker that takes orders in and answers none until it is told to. */
async function slowMaker(): Promise<{ url: string; open: () => number; answer: () => void; server: Server }> {
  const waiting: (() => void)[] = [];
  let answering = false;
  const server = createServer((request, response) => {
    request.resume();
    const say = () => response.writeHead(202, { 'content-type': 'application/json' }).end('{}');
    if (answering) say();
    else waiting.push(say);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', () => resolve()));
  const { port } = server.address() as { port: number };
  return {
    url: `http://127.0.0.1:${port}`,
    open: () => waiting.length,
    answer: () => {
      answering = true;
      for (const say of waiting.splice(0)) say();
    },
    server,
  };
}

describe('the pace of each maker', () => {
  let house: House;
  let root: Superuser;
  let slow: Awaited<ReturnType<typeof slowMaker>>;
  beforeAll(async () => {
    slow = await slowMaker();
    house = await openHouse({ dispatching: true, secondsPerDay: 3600 });
    root = await asSuperuser(house.db);
  });
  afterAll(async () => {
    slow?.answer();
    await root?.close();
    await house?.close();
    slow?.server.close();
  });
  const states = async (scenes: readonly Scene[]) =>
    Promise.all(scenes.map(async (scene) => (await orderOf(scene)).state));

  it('keeps a maker that does not answer from holding up another', { timeout: 120_000 }, async () => {
    const many: Scene[] = [];
    for (let n = 0; n < 30; n += 1) many.push(await sceneAt(house, 'approved', { maker: 'OSTREL' }));
    const other = await sceneAt(house, 'approved', { maker: 'QUILLON' });
    const makerIds = await Promise.all(
      [many[0]!, other].map(async (scene) => (await orderOf(scene)).makerId),
    );
    expect(new Set(makerIds).size).toBe(2);
    await root.rows(
      `update maker set endpoint = '${slow.url}', sends_per_minute = 6000 where id = '${makerIds[0]}'`,
    );
    for (const scene of many) await scenery.place(scene);
    await until(async () => slow.open() > 0, 'the slow maker to be called');
    await playTo(other, 'queued');
    await until(async () => (await orderOf(other)).state === 'sent', 'the other maker’s order', 9000);
    // Nobody has timed out yet: not one of the slow maker's orders has gone anywhere.
    expect(new Set(await states(many))).toEqual(new Set(['queued']));
    expect(slow.open()).toBeLessThanOrEqual(3);
    slow.answer();
    await until(async () => (await states(many)).every((state) => state === 'sent'), 'the rest', 60_000);
  });

  it(
    'sends a maker no more than its share, and counts no attempt for waiting',
    { timeout: 60_000 },
    async () => {
      const scenes: Scene[] = [];
      for (let n = 0; n < burst + 3; n += 1)
        scenes.push(await sceneAt(house, 'approved', { maker: 'QUILLON' }));
      const { makerId } = await orderOf(scenes[0]!);
      // One a minute: after the burst the next would be due long after this test.
      await root.rows(`update maker set sends_per_minute = 1, paced_until = null where id = '${makerId}'`);
      for (const scene of scenes) await scenery.place(scene);
      const sent = async () => (await states(scenes)).filter((state) => state === 'sent').length;
      await until(async () => (await sent()) === burst, 'the burst');
      const waiting = await sceneAt(house, 'approved', { maker: 'OSTREL' });
      await scenery.place(waiting);
      await until(async () => (await orderOf(waiting)).state === 'sent', 'another maker’s order');
      expect(await sent()).toBe(burst);
      const tries = await root.rows(
        `select count(*)::int as n from delivery where order_id in (${scenes.map(({ orderId }) => `'${orderId}'`).join()})`,
      );
      expect(tries[0]!['n']).toBe(burst);
    },
  );
});
