import { Redis } from 'ioredis';
import { createPostgresBackend, Queue, Worker, type Processor } from 'bullmq';
import type { Settings } from '../config.js';
import { LastingClient } from './lasting-client.js';
import { logger } from './logger.js';

/** One queue carries everything that has to leave the house; jobs hold identifiers only. */
export const dispatchQueue = 'dispatch';

export interface DispatchJob {
  readonly eventId: string;
  readonly clinicId: string;
  readonly topic: string;
  readonly payload: Record<string, string>;
}

type QueueSettings = Pick<Settings, 'DATABASE_URL' | 'REDIS_URL' | 'SEND_ATTEMPTS' | 'SEND_BACKOFF_MS'>;

const inPostgres = (settings: QueueSettings) => ({
  connection: {
    connectionString: settings.DATABASE_URL,
    schema: 'bullmq',
    migrate: true,
    max: 5,
    Client: LastingClient,
  },
});
const inRedis = (url: string) => ({ connection: new Redis(url, { maxRetriesPerRequest: null }) });

/** Opens the queue on Redis where there is one, else on PostgreSQL. */
export function openQueue(settings: QueueSettings): Queue<DispatchJob> {
  const options = {
    defaultJobOptions: {
      attempts: settings.SEND_ATTEMPTS,
      backoff: { type: 'exponential', delay: settings.SEND_BACKOFF_MS },
      removeOnComplete: 1000,
      removeOnFail: 5000,
    },
  };
  const queue =
    settings.REDIS_URL === undefined
      ? new Queue<DispatchJob>(
          dispatchQueue,
          { ...options, ...inPostgres(settings) } as never,
          createPostgresBackend as never,
        )
      : new Queue<DispatchJob>(dispatchQueue, { ...options, ...inRedis(settings.REDIS_URL) });
  queue.on('error', (err) => logger.warn({ err: err.message }, 'queue'));
  return queue;
}

/** Opens a worker on the same queue, of so many jobs at once. A job whose worker died is given to another one. */
export function openWorker(
  settings: QueueSettings,
  concurrency: number,
  handle: Processor<DispatchJob>,
): Worker<DispatchJob> {
  const options = { concurrency, maxStalledCount: 20, stalledInterval: 5000, lockDuration: 20_000 };
  const worker =
    settings.REDIS_URL === undefined
      ? new Worker<DispatchJob>(
          dispatchQueue,
          handle,
          { ...options, ...inPostgres(settings) } as never,
          createPostgresBackend as never,
        )
      : new Worker<DispatchJob>(dispatchQueue, handle, { ...options, ...inRedis(settings.REDIS_URL) });
  worker.on('error', (err) => logger.warn({ err: err.message }, 'worker'));
  return worker;
}
