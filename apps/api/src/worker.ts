import { readSettings } from './config.js';
import { logger } from './platform/logger.js';
import { openDatabase } from './server.js';
import { startWorker } from './start-worker.js';

const settings = readSettings();
const database = openDatabase(settings);
const worker = await startWorker(settings, database);
logger.info({ queue: settings.REDIS_URL === undefined ? 'postgresql' : 'redis' }, 'worker ready');

async function stop(): Promise<void> {
  setTimeout(() => process.exit(1), 15_000).unref();
  await worker.stop();
  await database.close();
  process.exit(0);
}
for (const signal of ['SIGTERM', 'SIGINT'] as const) process.once(signal, () => void stop());
