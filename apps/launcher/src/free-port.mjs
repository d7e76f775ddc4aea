import { createServer } from 'node:net';

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

/** True when a server could listen on this port on every address. */
export function isPortFree(port) {
  return new Promise((done) => {
    const server = createServer();
    server.once('error', () => done(false));
    server.listen(port, () => server.close(() => done(true)));
  });
}
