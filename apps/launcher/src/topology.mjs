import { randomBytes } from 'node:crypto';
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { startEmbeddedPostgres } from './embedded-postgres.mjs';
import { findFreePort } from './free-port.mjs';
import { startMember } from './member.mjs';
import { ensureOwnedDatabase } from './owned-database.mjs';
import { waitUntilReady } from './ready.mjs';
import { startRedis } from './redis.mjs';
import { inRepository } from './repository.mjs';
import { runProgram } from './run-program.mjs';

const SCRIPTS = {
  api: inRepository('apps', 'api', 'dist', 'main.js'),
  worker: inRepository('apps', 'api', 'dist', 'worker.js'),
};

/**
 * The deployment of docker-compose.yml as plain processes: PostgreSQL, Redis, APIs and workers, each its own
 * process that can be killed and started again by its name (`api-1`, `worker-2`).
 *
 * @param {{ folder: string, apis?: number, workers?: number, queue?: 'redis' | 'postgres', env?: Record<string, string>, throwaway?: boolean }} options
 *   `env` is added to what every API and worker gets; `throwaway` trades durability of the database for speed.
 */
export async function startTopology({
  folder,
  apis = 2,
  workers = 3,
  queue = 'redis',
  env = {},
  throwaway = false,
}) {
  mkdirSync(folder, { recursive: true, mode: 0o711 });
  const { add, stop } = keepTogether();
  try {
    const postgres = await startEmbeddedPostgres({
      folder: join(folder, 'database'),
      password: 'for-trying',
      throwaway,
    });
    add(postgres);
    const databaseUrl = await ensureOwnedDatabase(postgres, {
      database: 'lensferry',
      password: 'for-trying',
    });
    const redis = queue === 'redis' ? await startRedis({ folder: join(folder, 'redis') }) : null;
    if (redis) add(redis);
    const shared = sharedEnvironment({ databaseUrl, redis, env });
    await migrate(shared);
    const crew = manCrew({ folder, shared, add });
    const apiUrls = [];
    for (let number = 1; number <= apis; number += 1) apiUrls.push(await crew.startApi(`api-${number}`));
    for (let number = 1; number <= workers; number += 1) await crew.startWorker(`worker-${number}`);
    return { databaseUrl, superuserUrl: postgres.superuserUrl('lensferry'), redis, apiUrls, ...crew, stop };
  } catch (error) {
    await stop();
    throw error;
  }
}

/**
 * The parts lead process groups of their own, so they would outlive a caller that ends without stopping them:
 * those are killed. A part that has ended is forgotten, because its process id may be somebody else's by then.
 */
function keepTogether() {
  const parts = [];
  const add = (part) => {
    parts.push(part);
    part.ended.then(() => parts.splice(parts.indexOf(part), 1));
  };
  const killAll = () => parts.forEach(({ pid }) => killQuietly(pid));
  process.once('exit', killAll);
  const stop = async () => {
    while (parts.length > 0) await parts.at(-1).stop();
    process.off('exit', killAll);
  };
  return { add, stop };
}

function killQuietly(pid) {
  try {
    process.kill(pid, 'SIGKILL');
  } catch {
    // It went in this very moment.
  }
}

function sharedEnvironment({ databaseUrl, redis, env }) {
  const { REDIS_URL: _none, ...inherited } = process.env;
  return {
    ...inherited,
    DATABASE_URL: databaseUrl,
    ...(redis ? { REDIS_URL: redis.url } : {}),
    IDENTITY_KEY: randomBytes(32).toString('base64'),
    EMBEDDED_WORKER: '0',
    LENSFERRY_DEMO: '0',
    ...env,
  };
}

async function migrate(env) {
  const { code, output } = await runProgram(
    process.execPath,
    [inRepository('apps', 'api', 'dist', 'migrate.js')],
    { env },
  );
  if (code !== 0) throw new Error(output.trim());
}

/** Starts, kills and restarts the APIs and workers; each keeps its name, its port and its log. */
function manCrew({ folder, shared, add }) {
  const members = new Map();
  const start = async (name, { script, env, url }) => {
    const logFile = join(folder, `${name}.log`);
    const member = startMember({ name, script, env: { ...shared, ...env }, logFile });
    add(member);
    members.set(name, { ...member, again: () => start(name, { script, env, url }) });
    if (!url) return;
    await waitUntilReady({ url, firstGone: member.ended.then((reason) => ({ name, reason, logFile })) });
  };
  return {
    names: () => [...members.keys()],
    pidOf: (name) => members.get(name).pid,
    startApi: async (name) => {
      const port = await findFreePort();
      const url = `http://127.0.0.1:${port}`;
      await start(name, { script: SCRIPTS.api, env: { HOST: '127.0.0.1', PORT: String(port) }, url });
      return url;
    },
    startWorker: (name) => start(name, { script: SCRIPTS.worker, env: {} }),
    /** Kills without warning and resolves when the process is gone. */
    kill: async (name) => {
      members.get(name).kill('SIGKILL');
      await members.get(name).ended;
    },
    /** Ends it in the ordinary way. */
    end: (name) => members.get(name).stop(),
    /** Starts it again under its name, after it was killed or ended; an API is ready when this resolves. */
    restart: (name) => members.get(name).again(),
  };
}
