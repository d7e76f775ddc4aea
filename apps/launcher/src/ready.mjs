import { setTimeout as pause } from 'node:timers/promises';
import { sentenceFor } from './last-words.mjs';
import { StopSentence } from './stop-sentence.mjs';

const TIMEOUT_MS = 120_000;

/** Where a server that listens on this host and port is reached from this machine. */
export function addressOf({ host, port }) {
  const reachable =
    { '0.0.0.0': '127.0.0.1', '::': '[::1]' }[host] ?? (host.includes(':') ? `[${host}]` : host);
  return `http://${reachable}:${port}`;
}

/** Waits for `GET /health/ready` to answer 200; gives up when a process that it needs has gone. */
export async function waitUntilReady({ url, stop, firstGone }) {
  const end = Date.now() + TIMEOUT_MS;
  let gone = null;
  firstGone.then((member) => (gone = member));
  for (;;) {
    stop?.throwIfRequested();
    if (gone) throw sentenceFor(gone);
    if ((await statusOf(`${url}/health/ready`)) === 200) return;
    if (Date.now() > end) {
      throw new StopSentence(`The API did not become ready in ${TIMEOUT_MS / 1000} s: its log says why.`);
    }
    await pause(50);
  }
}

function statusOf(url) {
  return fetch(url, { signal: AbortSignal.timeout(2_000) }).then(
    (answer) => answer.status,
    () => 0,
  );
}
