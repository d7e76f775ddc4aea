/** What the workers written by hand have in common: a BullMQ worker as ours is opened, and a signed call. */
import { randomUUID } from 'node:crypto';
import { createPostgresBackend, Worker } from 'bullmq';
import { Redis } from 'ioredis';
import { Webhook } from 'standardwebhooks';

const webhook = new Webhook('whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw');

/** Works on the queue that the settings name, and says when it is ready. */
export async function workOnRawQueue(handle) {
  const options = { concurrency: 24, maxStalledCount: 20, stalledInterval: 5000, lockDuration: 20_000 };
  const redis = process.env['REDIS_URL'];
  const connection =
    redis === undefined
      ? { connectionString: process.env['DATABASE_URL'], schema: 'raw', migrate: true, max: 5 }
      : new Redis(redis, { maxRetriesPerRequest: null });
  const worker = new Worker(
    'raw',
    handle,
    { ...options, connection },
    ...(redis === undefined ? [createPostgresBackend] : []),
  );
  worker.on('failed', (_, error) => console.error(error.message));
  await worker.waitUntilReady();
  console.log('worker ready"');
}

/** Posts a signed document under an idempotency key. @returns the answer's status and when it was sent. */
export async function postSigned(url, key, body) {
  const id = `msg_${randomUUID()}`;
  const at = new Date();
  const answer = await fetch(url, {
    method: 'POST',
    body,
    headers: {
      'content-type': 'application/json',
      'idempotency-key': key,
      'webhook-id': id,
      'webhook-timestamp': String(Math.floor(at.getTime() / 1000)),
      'webhook-signature': webhook.sign(id, at, body),
    },
  });
  await answer.text();
  return { status: answer.status, at };
}
