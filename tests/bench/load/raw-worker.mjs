/** A BullMQ worker that does nothing with its jobs, on the backend that the settings name: the queue's own speed. */
import { createPostgresBackend, Worker } from 'bullmq';
import { Redis } from 'ioredis';

const options = { concurrency: 24, maxStalledCount: 20, stalledInterval: 5000, lockDuration: 20_000 };
const redis = process.env['REDIS_URL'];
const connection =
  redis === undefined
    ? { connectionString: process.env['DATABASE_URL'], schema: 'raw', migrate: true, max: 5 }
    : new Redis(redis, { maxRetriesPerRequest: null });
const worker = new Worker(
  'raw',
  async () => undefined,
  { ...options, connection },
  ...(redis === undefined ? [createPostgresBackend] : []),
);
await worker.waitUntilReady();
console.log('worker ready"');
