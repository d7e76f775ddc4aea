import type { Settings } from './config.js';
import { channelsOf } from './dispatch/channels.js';
import { makeDeliver } from './dispatch/deliver.js';
import { jobsAtOnce } from './dispatch/hands.js';
import { keepContributing } from './outcomes/contribute-to-pool.js';
import type { Database } from './platform/database.js';
import { LastingClient } from './platform/lasting-client.js';
import { logger } from './platform/logger.js';
import { openQueue, openWorker } from './platform/queue.js';
import { Relay } from './platform/relay.js';

/** A running relay and worker. */
export interface RunningWorker {
  stop(): Promise<void>;
}

/** Starts the relay from the outbox to the queue, and a worker on the queue, once the database answers. */
export async function startWorker(settings: Settings, database: Database): Promise<RunningWorker> {
  await untilDatabaseAnswers(settings.DATABASE_URL);
  const queue = openQueue(settings);
  const worker = openWorker(settings, jobsAtOnce, makeDeliver(database, channelsOf(settings)));
  await Promise.all([queue.waitUntilReady(), worker.waitUntilReady()]);
  const relay = new Relay(settings.DATABASE_URL, queue, settings.SWEEP_AFTER_MS);
  relay.start();
  const stopContributing = keepContributing(database);
  return {
    async stop() {
      await relay.stop();
      await stopContributing();
      await worker.close();
      await queue.close();
    },
  };
}

/** BullMQ never gets over a first connection that fails, so it is not asked to connect before one succeeds. */
async function untilDatabaseAnswers(databaseUrl: string): Promise<void> {
  for (;;) {
    const client = new LastingClient(databaseUrl);
    try {
      await client.connect();
      return;
    } catch (error) {
      logger.warn({ err: (error as Error).message }, 'the worker waits for the database');
      await new Promise((resolve) => setTimeout(resolve, 1000));
    } finally {
      await client.end().catch(() => undefined);
    }
  }
}
