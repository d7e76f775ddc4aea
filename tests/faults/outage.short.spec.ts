import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { setTimeout as pause } from 'node:timers/promises';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Database } from '../../apps/api/dist/platform/database.js';
import { LastingClient } from '../../apps/api/dist/platform/lasting-client.js';
import { buildServer, openDatabase } from '../../apps/api/dist/server.js';
import { startWorker, type RunningWorker } from '../../apps/api/dist/start-worker.js';
import { cutLineTo, type CutLine } from '../support/cut-line.js';
import { openHouse, until, type House } from '../support/house.js';
import { orderOf, sceneAt, scenery, type Scene } from '../support/scenes.js';

const full = process.env['FULL'] === '1';
const goneForMs = full ? 60_000 : 3_000;
/** How long a person waits for the refusal, and for things to go again. */
const refusedWithinMs = 12_000;
const backWithinMs = 30_000;

/** The line between the product and its database is cut for a while; nothing else is played. */
describe('a database that is gone for a while', { timeout: 300_000 }, () => {
  let house: House;
  let line: CutLine;
  let database: Database;
  let app: NestFastifyApplication;
  let worker: RunningWorker;
  let maker: Server;
  let cookie = '';
  let cuttableUrl = '';
  const received: string[] = [];
  beforeAll(async () => {
    house = await openHouse();
    maker = createServer((request, response) => {
      received.push(String(request.headers['idempotency-key']));
      request.resume().on('end', () => response.writeHead(202).end('{}'));
    }).listen(0, '127.0.0.1');
    await new Promise((done) => maker.once('listening', done));
    const { port } = maker.address() as AddressInfo;
    await house.database.work(
      { kind: 'worker', personId: null, name: 'Test', clinicIds: [] },
      async ({ tx }) => {
        for (const { id, code } of await tx.maker.findMany({ where: { channel: 'https' } }))
          await tx.maker.update({ where: { id }, data: { endpoint: `http://127.0.0.1:${port}/${code}` } });
      },
    );
    const real = new URL(house.db.databaseUrl);
    line = await cutLineTo(real.hostname, Number(real.port));
    const cuttable = new URL(real);
    cuttable.port = String(line.port);
    cuttable.hostname = '127.0.0.1';
    cuttableUrl = cuttable.href;
    const settings = { ...house.settings, DATABASE_URL: cuttableUrl, SWEEP_AFTER_MS: 2000 };
    database = openDatabase(settings);
    app = await buildServer(settings, database);
    await app.init();
    await app.getHttpAdapter().getInstance().ready();
    worker = await startWorker(settings, database);
    ({ cookie } = await house.signIn('una'));
  });
  afterAll(async () => {
    await worker?.stop();
    await app?.close();
    await database?.close();
    await line?.close();
    maker?.close();
    await house?.close();
  });
  const get = async (url: string) => {
    const from = performance.now();
    const { statusCode, headers, payload } = await app.inject({ url, headers: { cookie } });
    return { statusCode, headers, payload, ms: performance.now() - from };
  };
  const placed = async (): Promise<Scene> => {
    const scene = await sceneAt(house, 'approved');
    await scenery.place(scene);
    return scene;
  };

  it('is told cleanly, and everything goes on by itself when it is back, each order once by its key', async () => {
    expect((await get('/api/orders')).statusCode).toBe(200);
    const ready = [await sceneAt(house, 'approved'), await sceneAt(house, 'approved')];
    const scenes = [await placed()];
    // Under way, on its way out, or still in the outbox when the line breaks.
    await Promise.all(ready.map((scene) => scenery.place(scene)));
    scenes.push(...ready);
    await line.cut();
    const from = Date.now();
    scenes.push(await placed());
    let refusals = 0;
    let slowest = 0;
    while (Date.now() - from < goneForMs) {
      const { statusCode, headers, payload, ms } = await get('/api/orders');
      expect(statusCode, payload).toBe(503);
      expect(headers['retry-after']).toBeDefined();
      expect(String(headers['content-type'])).toContain('application/problem+json');
      expect(JSON.parse(payload)).toMatchObject({ code: 'database.away', status: 503 });
      expect(payload).not.toMatch(/ at |prisma|127\.0\.0\.1/i);
      expect(ms).toBeLessThan(refusedWithinMs);
      slowest = Math.max(slowest, ms);
      refusals += 1;
      expect((await get('/health/live')).statusCode).toBe(200);
      expect((await get('/health/ready')).statusCode).toBe(503);
      await pause(200);
    }
    await line.mend();
    const back = Date.now();
    await until(async () => (await get('/health/ready')).statusCode === 200, 'readiness', backWithinMs);
    await until(async () => (await get('/api/orders')).statusCode === 200, 'answers', backWithinMs);
    const answersAgain = Date.now() - back;
    const numbers = await Promise.all(scenes.map(async (scene) => (await orderOf(scene)).number));
    await until(
      async () => (await Promise.all(scenes.map(orderOf))).every(({ state }) => state === 'sent'),
      'the last order to go out',
      full ? 120_000 : 60_000,
    );
    const counts = numbers.map((number) => received.filter((key) => key === number).length);
    // A maker that was reached when the line broke is asked again under the same key, which it takes once.
    for (const count of counts) expect(count).toBeGreaterThanOrEqual(1);
    console.log(
      `Database gone for ${Math.round((back - from) / 1000)} s: ${refusals} requests refused with 503, the slowest after ${Math.round(slowest)} ms; answers again ${answersAgain} ms after, ${numbers.length} orders out ${Date.now() - back} ms after, handed over ${counts.join(', ')} times`,
    );
  });

  it('may break between two statements of a connection in use: the next statement tells it, and nothing is thrown', async () => {
    for (const Client of [LastingClient, pg.Client]) {
      const pool = new pg.Pool({ connectionString: cuttableUrl, max: 1, Client });
      const client = await pool.connect();
      const thrown: Error[] = [];
      // The driver's own client is the counter-check: without a listener it ends the process.
      if (Client === pg.Client) client.once('error', (error) => thrown.push(error));
      await line.cut();
      await expect(client.query('select 1')).rejects.toThrow();
      expect(thrown.length).toBe(Client === pg.Client ? 1 : 0);
      await line.mend();
      client.release();
      await until(async () => (await pool.query('select 1')).rowCount === 1, 'a new connection');
      await pool.end();
    }
  });

  it('may flicker', async () => {
    const scenes = [await placed(), await placed()];
    for (let i = 0; i < 12; i++) {
      await line.cut();
      await pause(20);
      await line.mend();
      await pause(40 * (i % 5));
    }
    await until(
      async () => (await Promise.all(scenes.map(orderOf))).every(({ state }) => state === 'sent'),
      'the orders to go out after the last break',
      60_000,
    );
    await until(async () => (await get('/api/orders')).statusCode === 200, 'answers', backWithinMs);
  });
});
