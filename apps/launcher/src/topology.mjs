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
  const parts = [];
  const stop = async () => {
    while (parts.length > 0) await parts.pop().stop();
  };
  try {
    const postgres = await startEmbeddedPostgres({
      folder: join(folder, 'database'),
      password: 'for-trying',
      throwaway,
    });
    parts.push(postgres);
    const databaseUrl = await ensureOwnedDatabase(postgres, {
      database: 'lensferry',
      password: 'for-trying',
    });
    const redis = queue === 'redis' ? await startRedis({ folder: join(folder, 'redis') }) : null;
    if (redis) parts.push(redis);
    const shared = sharedEnvironment({ databaseUrl, redis, env });
    await migrate(shared);
    const crew = manCrew({ folder, shared, parts });
    const apiUrls = [];
    for (let number = 1; number <= apis; number += 1) apiUrls.push(await crew.startApi(`api-${number}`));
    for (let number = 1; number <= workers; number += 1) crew.startWorker(`worker-${number}`);
    return { databaseUrl, superuserUrl: postgres.superuserUrl('lensferry'), redis, apiUrls, ...crew, stop };
  } catch (error) {
    await stop();
    throw error;
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
function manCrew({ folder, shared, parts }) {
  const members = new Map();
  const start = (name, script, env) => {
    const member = startMember({
      name,
      script,
      env: { ...shared, ...env },
      logFile: join(folder, `${name}.log`),
    });
    const again = () => start(name, script, env);
    members.set(name, { ...member, again });
    parts.push(member);
    return member;
  };
  return {
    names: () => [...members.keys()],
    pidOf: (name) => members.get(name).pid,
    startApi: async (name) => {
      const port = await findFreePort();
      const url = `http://127.0.0.1:${port}`;
      const { ended, logFile } = start(name, SCRIPTS.api, { HOST: '127.0.0.1', PORT: String(port) });
      await waitUntilReady({ url, firstGone: ended.then((reason) => ({ name, reason, logFile })) });
      return url;
    },
    startWorker: (name) => void start(name, SCRIPTS.worker, {}),
    /** Kills without warning and resolves when the process is gone. */
    kill: async (name) => {
      members.get(name).kill('SIGKILL');
      await members.get(name).ended;
    },
    /** Ends it in the ordinary way. */
    end: (name) => members.get(name).stop(),
    /** Starts it again under its name, after it was killed or ended. */
    restart: (name) => void members.get(name).again(),
  };
}
