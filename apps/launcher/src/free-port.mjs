import { randomInt } from 'node:crypto';
import { createServer } from 'node:net';
import { StopSentence } from './stop-sentence.mjs';

/** Below what systems hand out for outgoing connections, one of which could take the port while its owner restarts. */
const FROM = 20_000;
const TO = 32_000;

/** A loopback port that is free now. It can be taken before it is used, so who uses it must be ready to ask again. */
export async function findFreePort() {
  for (let attempt = 0; attempt < 100; attempt += 1) {
    const port = randomInt(FROM, TO);
    if (await isPortFree(port, '127.0.0.1')) return port;
  }
  throw new StopSentence(`No port from ${FROM} to ${TO} is free on this machine: end some of its programs.`);
}

/** True when a server could listen there now. */
export async function isPortFree(port, host) {
  return (await tryPort(port, host)) === null;
}

/** Refuses a port that cannot be listened on, with what to do about it. */
export async function requireFreePort(port, host) {
  const code = await tryPort(port, host);
  if (code === null) return;
  const another = `choose another one, for example PORT=${port === 4180 ? 4181 : 4180} npm start`;
  if (code === 'EACCES') throw new StopSentence(`This user may not listen on port ${port}: ${another}.`);
  if (code === 'EADDRINUSE')
    throw new StopSentence(`Port ${port} is taken by another program: end that program, or ${another}.`);
  throw new StopSentence(
    `Lensferry cannot listen on ${host} port ${port} (${code}): set HOST to an address of this machine.`,
  );
}

function tryPort(port, host) {
  return new Promise((done) => {
    const server = createServer();
    server.once('error', (error) => done(error.code ?? error.message));
    server.listen(port, host, () => server.close(() => done(null)));
  });
}
