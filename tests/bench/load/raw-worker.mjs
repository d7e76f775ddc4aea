/**
 * A BullMQ worker that does nothing with its jobs, on the backend that the settings name: the queue's own speed. With
 * MAKER_URL it posts a signed document there for each job and writes nothing down: what no sending can be quicker than.
 */
import { randomUUID } from 'node:crypto';
import { postSigned, workOnRawQueue } from './raw-parts.mjs';

const makerUrl = process.env['MAKER_URL'];
// As long as an order's document.
const body = JSON.stringify({ document: 'x'.repeat(1500) });

await workOnRawQueue(async () => {
  if (makerUrl !== undefined) await postSigned(makerUrl, randomUUID(), body);
});
