import type { Settings } from './config.js';
import { makeDeliver } from './dispatch/deliver.js';
import type { Database } from './platform/database.js';
import { openQueue, openWorker } from './platform/queue.js';
import { Relay } from './platform/relay.js';

/** Starts the relay from the outbox to the queue, and a worker on the queue. */
export function startWorker(settings: Settings, database: Database): { stop(): Promise<void> } {
  const queue = openQueue(settings);
  const relay = new Relay(settings.DATABASE_URL, queue, settings.SWEEP_AFTER_MS);
  const worker = openWorker(settings, makeDeliver(database));
  relay.start();
  return {
    async stop() {
      await relay.stop();
      await worker.close();
      await queue.close();
    },
  };
}
