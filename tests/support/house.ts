import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readFileSync } from 'node:fs';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { newKey, readSettings, type Settings } from '../../apps/api/dist/config.js';
import { makeNetwork, type Network } from '../../apps/api/dist/demo/make-network.js';
import type { SetClock } from '../../apps/api/dist/platform/clock.js';
import type { Database } from '../../apps/api/dist/platform/database.js';
import { SealedBox } from '../../apps/api/dist/platform/sealed-box.js';
import { buildServer, openDatabase } from '../../apps/api/dist/server.js';
import { startWorker, type RunningWorker } from '../../apps/api/dist/start-worker.js';
import { startSimulator, type RunningSimulator } from '../../apps/maker-simulator/dist/start.js';
import { freshDatabase, type FreshDatabase } from './fresh-database.js';

export const password = 'for-tests-only-1';

export interface Answer<T = Record<string, unknown>> {
  readonly status: number;
  readonly body: T;
  readonly type: string;
}

/** Somebody signed in. */
export interface Person {
  get<T = Record<string, never>>(path: string): Promise<Answer<T>>;
  post<T = Record<string, never>>(path: string, body: unknown): Promise<Answer<T>>;
  readonly cookie: string;
}

/** A house of three clinics and four makers on a database of its own, with the API in this process. */
export interface House {
  readonly app: NestFastifyApplication;
  readonly database: Database;
  readonly db: FreshDatabase;
  readonly settings: Settings;
  readonly network: Network;
  readonly simulator: RunningSimulator | null;
  readonly port: number;
  /** How a simulator plays the makers of this house, secrets included. */
  readonly simulatorMakers: readonly object[];
  /** Signs a person of the demo in, by the part of the e-mail before the @. */
  signIn(name: string): Promise<Person>;
  close(): Promise<void>;
}

interface Options {
  /** Listens, plays the makers and runs a worker. */
  readonly dispatching?: boolean;
  readonly secondsPerDay?: number;
  readonly clock?: SetClock;
  readonly environment?: Record<string, string>;
}

export async function openHouse(options: Options = {}): Promise<House> {
  const db = await freshDatabase();
  const folder = await mkdtemp(join(tmpdir(), 'lensferry-house-'));
  const settings = readSettings({
    DATABASE_URL: db.databaseUrl,
    IDENTITY_KEY: newKey(),
    PORT: '1',
    DATABASE_POOL: '8',
    SEND_BACKOFF_MS: '50',
    SEND_ATTEMPTS: '3',
    ...options.environment,
  });
  const database = openDatabase(settings, options.clock);
  const network = await makeNetwork(database, new SealedBox(settings.IDENTITY_KEY), {
    password,
    folder,
    simulator: null,
  });
  const simulatorMakers = (
    JSON.parse(readFileSync(join(folder, 'simulator-makers.json'), 'utf8')) as object[]
  ).map((maker) => ({ ...maker, declineShare: 0 }));
  const app = await buildServer(settings, database);
  let port = 0;
  let simulator: RunningSimulator | null = null;
  let worker: RunningWorker | undefined;
  if (options.dispatching) {
    await app.listen(0, '127.0.0.1');
    port = (app.getHttpServer().address() as { port: number }).port;
    simulator = await startSimulator(
      {
        port: 0,
        host: '127.0.0.1',
        dataDir: join(folder, 'simulator'),
        secondsPerDay: options.secondsPerDay ?? 0.02,
        lensferryUrl: `http://127.0.0.1:${port}`,
        makers: simulatorMakers as never,
      },
      () => undefined,
    );
    await pointMakersAt(database, simulator.url);
    worker = await startWorker(settings, database);
  } else {
    await app.init();
    await app.getHttpAdapter().getInstance().ready();
  }
  const call = makeCaller(app);
  return {
    app,
    database,
    db,
    settings,
    network,
    simulator,
    port,
    simulatorMakers,
    signIn: (name) => signIn(call, name),
    async close() {
      await worker?.stop();
      await simulator?.stop();
      await app.close();
      await database.close();
      await db.drop();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

async function pointMakersAt(database: Database, url: string): Promise<void> {
  const { alignSimulator } = await import('../../apps/api/dist/demo/align-simulator.js');
  await alignSimulator(database, url);
}

type Call = <T>(
  method: 'GET' | 'POST',
  path: string,
  cookie?: string,
  body?: unknown,
) => Promise<Answer<T> & { cookie: string }>;

function makeCaller(app: NestFastifyApplication): Call {
  return async (method, path, cookie, body) => {
    const answer = await app.inject({
      method,
      url: path,
      headers: {
        'x-lensferry': '1',
        ...(cookie ? { cookie } : {}),
        ...(body === undefined ? {} : { 'content-type': 'application/json' }),
      },
      ...(body === undefined ? {} : { payload: JSON.stringify(body) }),
    });
    const set = answer.headers['set-cookie'];
    return {
      status: answer.statusCode,
      body: answer.payload === '' ? {} : JSON.parse(answer.payload),
      type: String(answer.headers['content-type']),
      cookie: String(Array.isArray(set) ? set[0] : (set ?? '')).split(';')[0] ?? '',
    };
  };
}

async function signIn(call: Call, name: string): Promise<Person> {
  const { status, cookie } = await call('POST', '/api/session', undefined, {
    email: `${name}@lensferry.example`,
    password,
  });
  if (status !== 200) throw new Error(`${name} could not sign in: ${status}`);
  return {
    cookie,
    get: (path) => call('GET', path, cookie),
    post: (path, body) => call('POST', path, cookie, body),
  };
}

/** Waits until something holds, looking often; for what other processes do in their own time. */
export async function until<T>(
  look: () => Promise<T | null | undefined | false>,
  what: string,
  withinMs = 20_000,
): Promise<T> {
  const end = Date.now() + withinMs;
  for (;;) {
    const found = await look();
    if (found) return found;
    if (Date.now() > end) throw new Error(`Waited ${withinMs} ms in vain for: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 25));
  }
}
