/**
 * A BullMQ worker that does nothing with its jobs, on the backend that the settings name: the queue's own speed. With
 * MAKER_URL it posts a signed document there for each job and writes nothing down: what no sending can be quicker than.
 */
import { randomUUID } from 'node:crypto';
import { createPostgresBackend, Worker } from 'bullmq';
import { Redis } from 'ioredis';
import { Webhook } from 'standardwebhooks';

const options = { concurrency: 24, maxStalledCount: 20, stalledInterval: 5000, lockDuration: 20_000 };
const redis = process.env['REDIS_URL'];
const connection =
  redis === undefined
    ? { connectionString: process.env['DATABASE_URL'], schema: 'raw', migrate: true, max: 5 }
    : new Redis(redis, { maxRetriesPerRequest: null });
const makerUrl = process.env['MAKER_URL'];
const webhook = new Webhook('whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw');
// As long as an order's document.
const body = JSON.stringify({ document: 'x'.repeat(1500) });

async function call() {
  const id = `msg_${randomUUID()}`;
  const at = new Date();
  const answer = await fetch(makerUrl, {
    method: 'POST',
    body,
    headers: {
      'content-type': 'application/json',
      'idempotency-key': id,
      'webhook-id': id,
      'webhook-timestamp': String(Math.floor(at.getTime() / 1000)),
      'webhook-signature': webhook.sign(id, at, body),
    },
  });
  await answer.text();
}

const worker = new Worker(
  'raw',
  makerUrl === undefined ? async () => undefined : call,
  { ...options, connection },
  ...(redis === undefined ? [createPostgresBackend] : []),
);
await worker.waitUntilReady();
console.log('worker ready"');
