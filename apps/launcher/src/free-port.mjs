import { createServer } from 'node:net';
import { StopSentence } from './stop-sentence.mjs';

/** A loopback port that is free now. It can be taken before it is used, so who uses it must be ready to ask again. */
export function findFreePort() {
  return new Promise((done, failed) => {
    const server = createServer();
    server.once('error', failed);
    server.listen(0, '127.0.0.1', () => {
      const { port } = server.address();
      server.close(() => done(port));
    });
  });
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
