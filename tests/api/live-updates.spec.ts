import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openHouse, until, type House } from '../support/house.js';
import { orderOf, sceneAt } from '../support/scenes.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';

interface Stream {
  /** What was told so far. */
  readonly told: { caseId: string | null; orderId: string | null; action: string }[];
  /** Resolves when the server has ended it. */
  readonly over: Promise<void>;
  end(): Promise<void>;
}

describe('live updates', () => {
  let house: House;
  let root: Superuser;
  let base: string;
  beforeAll(async () => {
    house = await openHouse();
    root = await asSuperuser(house.db);
    await house.app.listen(0, '127.0.0.1');
    base = await house.app.getUrl();
  });
  afterAll(async () => {
    await root?.close();
    await house?.close();
  });

  async function listenAs(name: string): Promise<Stream> {
    const { cookie } = await house.signIn(name);
    const stop = new AbortController();
    const answer = await fetch(`${base}/api/events`, { headers: { cookie }, signal: stop.signal });
    const told: Stream['told'] = [];
    const reading = (async () => {
      let text = '';
      for await (const piece of answer.body!.pipeThrough(new TextDecoderStream())) {
        const parts = (text + piece).split('\n\n');
        text = parts.pop() ?? '';
        for (const part of parts) {
          const data = /^event: moved\ndata: (.*)$/.exec(part)?.[1];
          if (data) told.push(JSON.parse(data) as Stream['told'][number]);
        }
      }
    })().catch(() => undefined);
    return {
      told,
      over: reading,
      end: async () => {
        stop.abort();
        await reading;
      },
    };
  }

  const listeners = () =>
    root.rows<{ pid: number }>(
      `select pid from pg_stat_activity where query like 'listen lensferry%' and datname = current_database()`,
    );

  it('tell a clinic what moved there, and no other clinic', async () => {
    const scene = await sceneAt(house, 'submitted');
    const [here, elsewhere] = [await listenAs('una'), await listenAs('jonas')];
    await until(async () => (await listeners()).length === 1, 'the process listening');
    const { version } = await orderOf(scene);
    const ilse = await house.signIn('ilse');
    expect(
      (await ilse.post(`/api/orders/${scene.orderId}/request-changes`, { version, why: 'Read again.' }))
        .status,
    ).toBe(200);
    await until(async () => here.told.some(({ orderId }) => orderId === scene.orderId), 'the change told');
    expect(elsewhere.told).toEqual([]);
    await Promise.all([here.end(), elsewhere.end()]);
  });

  it('tell everybody to read again after the database was away', async () => {
    const here = await listenAs('una');
    await until(async () => (await listeners()).length === 1, 'the process listening');
    const [listener] = await listeners();
    await root.rows(`select pg_terminate_backend(${listener?.pid ?? 0})`);
    await until(
      async () => here.told.some(({ action }) => action === 'updates.resumed'),
      'the word to read again',
    );
    expect((await listeners()).length).toBe(1);
    await here.end();
  });

  it('end with the process, which would otherwise wait for them for ever', async () => {
    const here = await listenAs('una');
    await house.app.close();
    await here.over;
  });
});
