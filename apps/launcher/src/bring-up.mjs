import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { formatAccounts } from './demo-accounts.mjs';
import { loadDemoOnce } from './demo-load.mjs';
import { startEmbeddedPostgres } from './embedded-postgres.mjs';
import { findFreePort, isPortFree, requireFreePort } from './free-port.mjs';
import { addressOf, waitUntilReady } from './ready.mjs';
import { inRepository } from './repository.mjs';
import { runProgram } from './run-program.mjs';
import { readOrMakeSettings, saveSettings } from './settings-file.mjs';
import { saysDiskFull, StopSentence } from './stop-sentence.mjs';

/** Starts database, maker simulator and API in the order in which they need each other, up to the ready line. */
export async function bringUp({ options, data, crew, stop, log }) {
  await requireFreePort(options.port, options.host);
  const settings = await settleSettings(data.path('settings.json'));
  const databaseUrl = options.databaseUrl ?? (await startDatabase({ data, settings, crew }));
  stop.throwIfRequested();
  const env = sharedEnvironment({ options, data, settings, databaseUrl });
  await migrate(env, log);
  stop.throwIfRequested();
  if (options.demo) {
    await loadDemoOnce({ data, env, embedded: !options.databaseUrl, log });
    stop.throwIfRequested();
    startSimulator({ options, data, settings, env, crew });
  }
  startApi({ data, env, crew });
  await waitUntilReady({ url: addressOf(options), stop, firstGone: crew.firstGone });
  log(`\nLensferry is ready at http://localhost:${options.port}`);
  if (options.demo) log(formatAccounts(data.path('demo-accounts.json')));
}

/** The simulator keeps its port, because the demo's makers are written down with their addresses. */
async function settleSettings(file) {
  const settings = readOrMakeSettings(file);
  if (settings.simulatorPort && (await isPortFree(settings.simulatorPort, '127.0.0.1'))) return settings;
  const settled = { ...settings, simulatorPort: await findFreePort() };
  saveSettings(file, settled);
  return settled;
}

async function startDatabase({ data, settings, crew }) {
  const server = await startEmbeddedPostgres({
    folder: data.folder,
    password: settings.databaseSuperuserPassword,
  });
  crew.add({
    name: 'database',
    pid: server.pid,
    logFile: server.logFile,
    ended: server.ended,
    stop: server.stop,
  });
  // Not at the top: it needs a package that was not there before preparing.
  const { ensureOwnedDatabase } = await import('./owned-database.mjs');
  return ensureOwnedDatabase(server, { database: 'lensferry', password: settings.databaseOwnerPassword });
}

function sharedEnvironment({ options, data, settings, databaseUrl }) {
  return {
    ...process.env,
    PORT: String(options.port),
    HOST: options.host,
    DATABASE_URL: databaseUrl,
    DATA_DIR: data.folder,
    EMBEDDED_WORKER: process.env.EMBEDDED_WORKER || '1',
    IDENTITY_KEY: process.env.IDENTITY_KEY || settings.identityKey,
    // A rotation that was cut short: both keys open until it is run again.
    ...(settings.identityKeyPrevious ? { IDENTITY_KEY_PREVIOUS: settings.identityKeyPrevious } : {}),
    ADMIN_DIR: inRepository('apps', 'admin', 'dist'),
    LENSFERRY_DEMO: options.demo ? '1' : '0',
    ...(options.demo ? { SIMULATOR_URL: `http://127.0.0.1:${settings.simulatorPort}` } : {}),
  };
}

async function migrate(env, log) {
  const script = inRepository('apps', 'api', 'dist', 'migrate.js');
  const { code, output } = await runProgram(process.execPath, [script], { env });
  if (code === 0) return log(output.trim());
  if (saysDiskFull(output))
    throw new StopSentence(
      'The disk is full, so the database could not be migrated: free some space and start again.',
    );
  throw new StopSentence(output.trim());
}

function startSimulator({ options, data, settings, env, crew }) {
  const folder = data.path('simulator');
  const makers = data.path('simulator-makers.json');
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  crew.start({
    name: 'maker simulator',
    script: inRepository('apps', 'maker-simulator', 'dist', 'main.js'),
    logFile: data.path('logs/simulator.log'),
    env: {
      ...withoutSecrets(env),
      SIMULATOR_PORT: String(settings.simulatorPort),
      SIMULATOR_DATA_DIR: folder,
      LENSFERRY_URL: `http://127.0.0.1:${options.port}`,
      ...(existsSync(makers) ? { SIMULATOR_MAKERS: readFileSync(makers, 'utf8') } : {}),
    },
  });
}

/** The simulator plays somebody outside: it gets neither the database nor the key of the identities. */
function withoutSecrets({
  DATABASE_URL: _databaseUrl,
  IDENTITY_KEY: _identityKey,
  REDIS_URL: _redisUrl,
  ...rest
}) {
  return rest;
}

function startApi({ data, env, crew }) {
  crew.start({
    name: 'API',
    script: inRepository('apps', 'api', 'dist', 'main.js'),
    env,
    logFile: data.path('logs/api.log'),
  });
}
