import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { createServer, type Server } from 'node:http';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { createPostgresBackend, Queue } from 'bullmq';
import { Redis } from 'ioredis';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startMember } from '../../../apps/launcher/src/member.mjs';
import { findRedis, startRedis } from '../../../apps/launcher/src/redis.mjs';
import { copyScenes, keyOfCopy } from '../../support/copied-scenes.js';
import { openHouse, until, type House } from '../../support/house.js';
import { sceneAt } from '../../support/scenes.js';
import { asSuperuser, type Superuser } from '../../support/superuser.js';

const orders = Number(process.env['SENT_ORDERS'] ?? 600);
const jobs = Number(process.env['RAW_JOBS'] ?? 4000);
const crews = [1, 2, 4];
/** A maker that takes its time: one worker waits for it more than it works, and leaves the cores to others. */
const slowMakerMs = 600;

/** Orders that wait in the outbox, until every one is with its maker; against the same queue with nothing to do. */
describe('sending orders', { timeout: 1_800_000 }, () => {
  let house: House;
  let db: Superuser;
  let folder: string;
  let maker: Server;
  let received = new Set<string>();
  let makerTakesMs = 0;
  let round = 0;
  beforeAll(async () => {
    house = await openHouse();
    db = await asSuperuser(house.db);
    folder = await mkdtemp(join(tmpdir(), 'lensferry-sending-'));
    maker = createServer((request, response) => {
      received.add(String(request.headers['idempotency-key']));
      request.resume().on('end', () => setTimeout(() => response.writeHead(202).end('{}'), makerTakesMs));
    }).listen(0, '127.0.0.1');
    await new Promise((done) => maker.once('listening', done));
    const { port } = maker.address() as { port: number };
    await db.rows(
      `update maker set endpoint = 'http://127.0.0.1:${port}/' || code, sends_per_minute = 60000`,
    );
  }, 120_000);
  afterAll(async () => {
    maker?.close();
    await db?.close();
    await house?.close();
    if (folder) await rm(folder, { recursive: true, force: true });
  });

  /** Some orders in the outbox, of three clinics and two makers. */
  async function fill(): Promise<number> {
    round += 1;
    const scenes = [];
    for (const clinic of ['EST', 'NOR', 'HAR'] as const)
      for (const one of ['QUILLON', 'OSTREL'] as const)
        scenes.push(await sceneAt(house, 'queued', { clinic, maker: one }));
    const ids = scenes.map(({ orderId }) => orderId);
    const each = Math.round(orders / scenes.length) - 1;
    await copyScenes(db, { orderIds: ids, each, ended: false });
    await db.rows(
      `insert into outbox_event (clinic_id, id, topic, payload, created_at)
       select e.clinic_id, gen_random_uuid(), e.topic, jsonb_build_object('orderId', ${keyOfCopy('o')}), now()
       from outbox_event e cross join lateral (select e.payload ->> 'orderId' as o) x, generate_series(1, ${each}) n
       where o = any ($1::text[]) and e.topic = 'order.send'`,
      [ids],
    );
    return (each + 1) * ids.length;
  }

  async function withCrew<T>(
    size: number,
    script: string,
    env: Record<string, string>,
    during: () => Promise<T>,
  ): Promise<T> {
    const { REDIS_URL: _none, ...inherited } = process.env;
    const members = Array.from({ length: size }, (_, at) => {
      const logFile = join(folder, `${round}-${script.replaceAll('/', '-')}-${size}-${at}.log`);
      return {
        logFile,
        member: startMember({
          name: 'worker',
          script,
          logFile,
          env: {
            ...inherited,
            DATABASE_URL: house.db.databaseUrl,
            IDENTITY_KEY: house.settings.IDENTITY_KEY,
            ...env,
          },
        }),
      };
    });
    try {
      for (const { logFile } of members)
        await until(
          async () => (await readFile(logFile, 'utf8').catch(() => '')).includes('worker ready"'),
          'a worker',
          60_000,
        );
      return await during();
    } finally {
      for (const { member } of members) await member.stop();
    }
  }

  /** Orders a second, from when the workers are up until none waits. */
  async function sending(size: number, env: Record<string, string>): Promise<number> {
    const held = `update outbox_event set published_at = now() + interval '1 day' where done_at is null`;
    const count = await fill();
    received = new Set();
    // The workers start with nothing to do, so that their start is not measured.
    await db.rows(held);
    return withCrew(size, 'apps/api/dist/worker.js', { SWEEP_AFTER_MS: '600000', ...env }, async () => {
      const from = performance.now();
      await db.rows('update outbox_event set published_at = null where done_at is null');
      await db.rows(`select pg_notify('lensferry_outbox', '')`);
      await until(async () => (await waitingOrders()) === 0, 'the last order', 600_000);
      const seconds = (performance.now() - from) / 1000;
      expect(received.size).toBe(count);
      return count / seconds;
    });
  }

  async function rawQueue(redis: string | null): Promise<Queue> {
    const queue =
      redis === null
        ? new Queue(
            'raw',
            {
              connection: { connectionString: house.db.databaseUrl, schema: 'raw', migrate: true, max: 5 },
              defaultJobOptions: { removeOnComplete: true },
            } as never,
            createPostgresBackend as never,
          )
        : new Queue('raw', {
            connection: new Redis(redis, { maxRetriesPerRequest: null }),
            defaultJobOptions: { removeOnComplete: true },
          });
    await queue.waitUntilReady();
    return queue;
  }

  const waitingOrders = async (): Promise<number> =>
    (await db.rows<{ n: number }>('select count(*)::int as n from outbox_event where done_at is null'))[0]!.n;

  /** Orders a second by a worker written by hand that does the same durable work, one order at a time. */
  async function byHand(redis: string | null): Promise<number> {
    const count = await fill();
    received = new Set();
    const queue = await rawQueue(redis);
    await queue.pause();
    const waiting = await db.rows(
      `select id as "eventId", clinic_id as "clinicId", payload ->> 'orderId' as "orderId" from outbox_event where done_at is null`,
    );
    await queue.addBulk(waiting.map((data) => ({ name: 'send', data })));
    const env: Record<string, string> = redis === null ? {} : { REDIS_URL: redis };
    const rate = await withCrew(1, 'tests/bench/load/raw-sender.mjs', env, async () => {
      const from = performance.now();
      await queue.resume();
      await until(async () => (await waitingOrders()) === 0, 'the last order', 600_000);
      return (count * 1000) / (performance.now() - from);
    });
    expect(received.size).toBe(count);
    await queue.close();
    return rate;
  }

  /** Jobs a second that do nothing, or nothing but call the maker with a signed document. */
  async function bare(redis: string | null, calling = false): Promise<number> {
    const queue = await rawQueue(redis);
    await queue.pause();
    for (let at = 0; at < jobs; at += 500)
      await queue.addBulk(Array.from({ length: 500 }, () => ({ name: 'nothing', data: {} })));
    const { port } = maker.address() as { port: number };
    const env: Record<string, string> = {
      ...(redis === null ? {} : { REDIS_URL: redis }),
      ...(calling ? { MAKER_URL: `http://127.0.0.1:${port}/orders` } : {}),
    };
    const rate = await withCrew(1, 'tests/bench/load/raw-worker.mjs', env, async () => {
      const from = performance.now();
      await queue.resume();
      await until(
        async () => {
          const { waiting = 0, active = 0, prioritized = 0 } = await queue.getJobCounts();
          return waiting + active + prioritized === 0;
        },
        'the last job',
        600_000,
      );
      return (jobs * 1000) / (performance.now() - from);
    });
    await queue.close();
    return rate;
  }

  const redis = findRedis();
  it.each(['PostgreSQL', 'Redis'] as const)('over %s', async (backend) => {
    if (backend === 'Redis' && !redis) {
      console.log('There is no redis-server on PATH: sending over Redis is skipped.');
      return;
    }
    const server =
      backend === 'Redis' ? await startRedis({ folder: join(folder, 'redis'), port: undefined }) : null;
    try {
      const env: Record<string, string> = server === null ? {} : { REDIS_URL: server.url };
      const rates: number[] = [];
      for (const size of crews) rates.push(await sending(size, env));
      makerTakesMs = slowMakerMs;
      const slowRates: number[] = [];
      for (const size of crews) slowRates.push(await sending(size, env));
      makerTakesMs = 0;
      const hand = await byHand(server?.url ?? null);
      const calls = await bare(server?.url ?? null, true);
      const raw = await bare(server?.url ?? null);
      const [one = 0] = rates;
      const share = one / raw;
      console.log(
        `${share >= 0.5 ? '✓' : '✗'} ${backend}: ${one.toFixed(0)} orders a second with one worker, ${raw.toFixed(0)} empty jobs: ${share.toFixed(2)} of it (wanted: 0.5)\n` +
          `  by hand, the same durable work one order at a time: ${hand.toFixed(0)} a second; ours ${(one / hand).toFixed(2)} of it\n` +
          `  jobs that only call the maker with a signed document and write nothing down: ${calls.toFixed(0)} a second, ${(calls / raw).toFixed(2)} of empty ones\n` +
          `  makers that answer at once: ${scaling(rates)}\n` +
          `  makers that take ${slowMakerMs} ms: ${scaling(slowRates)}`,
      );
    } finally {
      await server?.stop();
    }
  });
});

/** How the rate of one worker grows with more of them. */
function scaling(rates: readonly number[]): string {
  const told = rates.map(
    (rate, at) =>
      `${crews[at]} ${at === 0 ? 'worker' : 'workers'} ${rate.toFixed(0)} a second${at === 0 ? '' : ` (${(rate / rates[0]!).toFixed(2)} times)`}`,
  );
  return `${told.join(', ')}; ${availableParallelism()} cores`;
}
