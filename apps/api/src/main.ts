import { readSettings } from './config.js';
import { alignSimulator } from './demo/align-simulator.js';
import { logger } from './platform/logger.js';
import { buildServer, openDatabase } from './server.js';
import { startWorker } from './start-worker.js';

const settings = readSettings();
const database = openDatabase(settings);
if (settings.LENSFERRY_DEMO && settings.SIMULATOR_URL !== undefined)
  await alignSimulator(database, settings.SIMULATOR_URL);
const app = await buildServer(settings, database);
await app.listen(settings.PORT, settings.HOST);
const worker = settings.EMBEDDED_WORKER ? await startWorker(settings, database) : undefined;
logger.info(
  { port: settings.PORT, queue: settings.REDIS_URL === undefined ? 'postgresql' : 'redis' },
  'ready',
);

/** Lets running requests and jobs finish, then closes what was opened. */
async function stop(): Promise<void> {
  setTimeout(() => process.exit(1), 15_000).unref();
  await app.close().catch((err: Error) => logger.warn({ err: err.message }, 'closing'));
  await worker?.stop();
  await database.close();
  process.exit(0);
}
for (const signal of ['SIGTERM', 'SIGINT'] as const) process.once(signal, () => void stop());
