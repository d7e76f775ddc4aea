import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { Redis } from 'ioredis';
import { expect } from 'vitest';
import { findFreePort } from '../../apps/launcher/src/free-port.mjs';
import { startMember } from '../../apps/launcher/src/member.mjs';
import { startRedis } from '../../apps/launcher/src/redis.mjs';
import { alignSimulator } from '../../apps/api/dist/demo/align-simulator.js';
import { dice } from '../../apps/api/dist/demo/eyes.js';
import { verifyChains } from '../../apps/api/dist/platform/verify-chain.js';
import { copyScenes, keyOfCopy } from './copied-scenes.js';
import { openHouse, until, type House } from './house.js';
import { openScene, playTo, scenery, type Scene } from './scenes.js';
import { asSuperuser, type Superuser } from './superuser.js';

export interface KillRun {
  readonly queue: 'postgres' | 'redis';
  readonly orders: number;
  /** How many rounds of killing; a round can strike the API, a worker or both. */
  readonly kills: number;
  readonly seed: number;
  /** Rounds after which everything that Redis holds is lost. */
  readonly flushAfter?: readonly number[];
  /** Rounds after which Redis itself is killed and started again on what it had written down. */
  readonly restartRedisAfter?: readonly number[];
  /** How long the last orders may take to go out. */
  readonly drainMs?: number;
}

type Member = ReturnType<typeof startMember>;
const patientName = 'Zebulon Quastermann';

/**
 * Places orders while the API and the workers, real processes, are killed at moments that a seed decides, and sees
 * that each order reached the simulated makers once and that nothing is stuck. @returns what there is to tell.
 */
export async function killRun(run: KillRun): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'lensferry-kills-'));
  const house = await openHouse();
  const root = await asSuperuser(house.db);
  const crew = await manCrew(house, run, folder);
  try {
    const [scenes] = await Promise.all([approved(house, root, run.orders), crew.startAll()]);
    const startedAt = Date.now();
    const kills = await killWhilePlacing(run, scenes, crew, root);
    const drainedIn = await drained(root, scenes, run.drainMs ?? 60_000);
    const received = await receivedOnce(folder, root, scenes);
    await nothingStuck(root, scenes);
    await noNameInLogs(folder, crew.names);
    return (
      `Kills on BullMQ over ${run.queue === 'redis' ? 'Redis' : 'PostgreSQL'}: ${kills.api + kills.worker} × kill -9 ` +
      `(${kills.api} API, ${kills.worker} worker${kills.flushes ? `, ${kills.flushes} × FLUSHALL` : ''}${kills.redis ? `, ${kills.redis} × Redis` : ''}) ` +
      `over ${scenes.length} orders, ${kills.underWay} of them under way at a kill, seed ${run.seed}: ${received} received once each, none lost, none doubled, none stuck; ` +
      `${Math.round((Date.now() - startedAt) / 1000)} s, the last ${Math.round(drainedIn / 1000)} s after the last kill`
    );
  } catch (error) {
    for (const name of crew.names)
      console.error(
        `--- ${name}\n${(await readFile(join(folder, `${name}.log`), 'utf8').catch(() => '')).slice(-2000)}`,
      );
    throw error;
  } finally {
    await crew.stop();
    await root.close();
    await house.close();
    await rm(folder, { recursive: true, force: true });
  }
}

/**
 * Approved orders with two makers that take messages: one of each clinic and maker made through the use cases, the
 * others their copies. The makers take as many documents as come: a pace of one a second would be all that is seen.
 */
async function approved(house: House, root: Superuser, count: number): Promise<Scene[]> {
  await root.rows('update maker set sends_per_minute = 60000');
  const originals: Scene[] = [];
  for (const clinic of ['EST', 'NOR', 'HAR'] as const)
    for (const maker of ['QUILLON', 'OSTREL'] as const)
      originals.push(
        await playTo(await openScene(house, { clinic, maker, patient: patientName }), 'approved'),
      );
  const each = Math.ceil(count / originals.length) - 1;
  const orderIds = originals.map(({ orderId }) => orderId);
  await copyScenes(root, { orderIds, each, ended: false });
  const copies = await root.rows<{ original: string; order_id: string; case_id: string }>(
    `select o.id::text as original, c.id::text as order_id, c.case_id::text
     from lens_order o cross join generate_series(1, $2::int) n join lens_order c on c.id = ${keyOfCopy('o.id')}
     where o.id = any ($1::uuid[])`,
    [orderIds, each],
  );
  const copied = copies.map(({ original, order_id, case_id }) => ({
    ...originals.find(({ orderId }) => orderId === original)!,
    orderId: order_id,
    caseId: case_id,
  }));
  return [...originals, ...copied].slice(0, count);
}

async function manCrew(house: House, { queue }: KillRun, folder: string) {
  const redisFolder = join(folder, 'redis');
  let redis = queue === 'redis' ? await startRedis({ folder: redisFolder, port: undefined }) : null;
  const [port, simulatorPort] = [await findFreePort(), await findFreePort()];
  const { REDIS_URL: _none, ...inherited } = process.env;
  const shared = {
    ...inherited,
    DATABASE_URL: house.db.databaseUrl,
    IDENTITY_KEY: house.settings.IDENTITY_KEY,
    PORT: String(port),
    SEND_ATTEMPTS: '12',
    SEND_BACKOFF_MS: '100',
    SWEEP_AFTER_MS: '3000',
    ...(redis === null ? {} : { REDIS_URL: redis.url }),
  };
  const parts: Record<string, { script: string; env: Record<string, string> }> = {
    api: { script: 'apps/api/dist/main.js', env: { EMBEDDED_WORKER: '1' } },
    worker: { script: 'apps/api/dist/worker.js', env: {} },
    simulator: {
      script: 'apps/maker-simulator/dist/main.js',
      env: {
        SIMULATOR_PORT: String(simulatorPort),
        SIMULATOR_DATA_DIR: join(folder, 'simulator'),
        SIMULATOR_SECONDS_PER_DAY: '1',
        SIMULATOR_MAKERS: JSON.stringify(house.simulatorMakers),
        LENSFERRY_URL: `http://127.0.0.1:${port}`,
      },
    },
  };
  const members = new Map<string, Member>();
  const start = (name: string): void => {
    const { script, env } = parts[name]!;
    members.set(
      name,
      startMember({ name, script, env: { ...shared, ...env }, logFile: join(folder, `${name}.log`) }),
    );
  };
  const logOf = (name: string): Promise<string> =>
    readFile(join(folder, `${name}.log`), 'utf8').catch(() => '');
  /** How often a part has said that it is ready, since the beginning. */
  const readiness = async (name: string): Promise<number> =>
    (await logOf(name)).split(name === 'simulator' ? 'is ready at' : 'ready"').length - 1;
  return {
    names: Object.keys(parts),
    readiness,
    async startAll(): Promise<void> {
      for (const name of Object.keys(parts)) start(name);
      await alignSimulator(house.database, `http://127.0.0.1:${simulatorPort}`);
      for (const name of Object.keys(parts))
        await until(async () => (await readiness(name)) > 0, name, 60_000);
    },
    killAndRestart: async (name: string): Promise<void> => {
      const member = members.get(name)!;
      member.kill('SIGKILL');
      await member.ended;
      start(name);
    },
    async flush(): Promise<void> {
      const client = new Redis(redis!.url);
      await client.flushall();
      client.disconnect();
    },
    async restartRedis(): Promise<void> {
      process.kill(redis!.pid!, 'SIGKILL');
      await redis!.ended;
      redis = await startRedis({ folder: redisFolder, port: redis!.port });
    },
    async stop(): Promise<void> {
      for (const member of members.values()) member.kill('SIGKILL');
      await Promise.all([...members.values()].map(({ ended }) => ended));
      await redis?.stop();
    },
  };
}
type Crew = Awaited<ReturnType<typeof manCrew>>;

/** Each round places some orders and kills a process at a moment of the seed's choosing, while they go out. */
async function killWhilePlacing(run: KillRun, scenes: readonly Scene[], crew: Crew, root: Superuser) {
  const roll = dice(run.seed);
  const kills = { api: 0, worker: 0, flushes: 0, redis: 0, underWay: 0 };
  let placed = 0;
  for (let round = 1; round <= run.kills; round += 1) {
    const victims = ([['api'], ['worker'], ['api', 'worker']] as const)[Math.floor(roll() * 3)]!;
    const [moment, patient] = [roll() * 400, roll() < 0.7];
    const ready = await Promise.all(victims.map(crew.readiness));
    const upTo = Math.ceil((scenes.length * round) / run.kills);
    const placing = Promise.all(scenes.slice(placed, upTo).map((scene) => scenery.place(scene)));
    await pause(moment);
    const [open] = await root.rows('select count(*)::int as n from outbox_event where done_at is null');
    kills.underWay += open!['n'];
    await Promise.all(victims.map(crew.killAndRestart));
    for (const victim of victims) kills[victim] += 1;
    await placing;
    placed = upTo;
    if (run.flushAfter?.includes(round)) {
      await crew.flush();
      kills.flushes += 1;
    }
    if (run.restartRedisAfter?.includes(round)) {
      await crew.restartRedis();
      kills.redis += 1;
    }
    // Now and then the next kill comes before this one has got up again.
    if (patient)
      await until(
        async () => (await Promise.all(victims.map(crew.readiness))).every((now, each) => now > ready[each]!),
        `${victims.join(' and ')} up again`,
        60_000,
      );
  }
  return kills;
}

/** Waits until every order has left the queue, and says how long that took. */
async function drained(root: Superuser, scenes: readonly Scene[], withinMs: number): Promise<number> {
  const from = Date.now();
  await until(
    async () => {
      const [row] = await root.rows(
        `select count(*)::int as open from lens_order where id = any ($1) and state in ('approved', 'queued')`,
        [scenes.map(({ orderId }) => orderId)],
      );
      const [waiting] = await root.rows(
        'select count(*)::int as open from outbox_event where done_at is null',
      );
      return row!['open'] === 0 && waiting!['open'] === 0;
    },
    'the last orders to go out',
    withinMs,
  );
  return Date.now() - from;
}

/** What the makers wrote down: one receipt an order, under its own number as the key, and no repetition under another. */
async function receivedOnce(folder: string, root: Superuser, scenes: readonly Scene[]): Promise<number> {
  const journal = await readFile(join(folder, 'simulator', 'journal.jsonl'), 'utf8');
  const entries = journal
    .split('\n')
    .filter((line) => line.trim() !== '')
    .map(
      (line) => JSON.parse(line) as { entry: string; receipt?: { number: string; idempotencyKey: string } },
    );
  const receipts = entries.flatMap(({ receipt }) => receipt ?? []);
  const numbers = await root.rows<{ number: string }>('select number from lens_order where id = any ($1)', [
    scenes.map(({ orderId }) => orderId),
  ]);
  expect(receipts.map(({ number }) => number).sort()).toEqual(numbers.map(({ number }) => number).sort());
  expect(receipts.filter(({ number, idempotencyKey }) => number !== idempotencyKey)).toEqual([]);
  expect(entries.filter(({ entry }) => entry === 'again')).toEqual([]);
  expect(journal).not.toContain(patientName);
  return receipts.length;
}

/** Every order is with its maker or further on, went out by one step, and the record of all of it is whole. */
async function nothingStuck(root: Superuser, scenes: readonly Scene[]): Promise<void> {
  const ids = scenes.map(({ orderId }) => orderId);
  const states = await root.rows(
    'select state::text, count(*)::int as n from lens_order where id = any ($1) group by 1',
    [ids],
  );
  for (const { state } of states) expect(['sent', 'acknowledged', 'shipped']).toContain(state);
  const steps = await root.rows(
    `select order_id, count(*)::int as n from audit_entry where action = 'order.deliver' and order_id = any ($1) group by 1`,
    [ids],
  );
  expect(steps).toHaveLength(ids.length);
  expect(steps.filter(({ n }) => n !== 1)).toEqual([]);
  // One picture of the whole record: the makers' answers are still being written down.
  await root.rows('begin isolation level repeatable read read only');
  const reports = await verifyChains({
    query: async (text: string, values: unknown[]) => ({ rows: await root.rows(text, values) }),
  } as never);
  await root.rows('rollback');
  for (const { faults } of reports) expect(faults).toEqual([]);
}

async function noNameInLogs(folder: string, names: readonly string[]): Promise<void> {
  for (const name of names) {
    const log = await readFile(join(folder, `${name}.log`), 'utf8');
    expect(log.length, name).toBeGreaterThan(0);
    for (const word of patientName.split(' ')) expect(log, name).not.toContain(word);
  }
}
