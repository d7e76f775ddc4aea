import { connect, createServer, type AddressInfo, type Server, type Socket } from 'node:net';

/** A line to a server that can be cut and mended: connections break in the middle, and new ones are refused. */
export interface CutLine {
  readonly port: number;
  cut(): Promise<void>;
  mend(): Promise<void>;
  close(): Promise<void>;
}

export async function cutLineTo(host: string, port: number): Promise<CutLine> {
  const sockets = new Set<Socket>();
  const open = async (on: number): Promise<Server> => {
    const server = createServer((near) => {
      const far = connect(port, host);
      for (const [one, other] of [
        [near, far],
        [far, near],
      ] as const) {
        sockets.add(one);
        one.on('error', () => undefined);
        one.on('close', () => {
          sockets.delete(one);
          other.destroy();
        });
        one.pipe(other);
      }
    });
    server.listen(on, '127.0.0.1');
    await new Promise((done, failed) => server.once('listening', done).once('error', failed));
    return server;
  };
  let server = await open(0);
  const own = (server.address() as AddressInfo).port;
  const cut = async (): Promise<void> => {
    const closed = new Promise((done) => server.close(done));
    for (const socket of sockets) socket.destroy();
    await closed;
  };
  return {
    port: own,
    cut,
    mend: async () => {
      server = await open(own);
    },
    close: cut,
  };
}
