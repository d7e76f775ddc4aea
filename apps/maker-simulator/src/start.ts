import type { AddressInfo } from 'node:net';
import { Book } from './book.js';
import { Courier } from './courier.js';
import type { Log } from './courier.js';
import { createDesk } from './server.js';
import type { Settings } from './settings.js';

/** A running simulator. */
export interface RunningSimulator {
  readonly port: number;
  readonly url: string;
  /** Stops receiving, ends what is under way and closes the book. */
  stop(): Promise<void>;
}

/** Opens the book, takes up what was due, and listens. Rejects when the port or the folder cannot be had. */
export async function startSimulator(settings: Settings, log: Log): Promise<RunningSimulator> {
  const book = await Book.open(settings.dataDir);
  const courier = new Courier(book, settings, log);
  const desk = createDesk(book, courier, settings, log);
  await new Promise<void>((listening, failed) => {
    desk.once('error', failed);
    desk.listen(settings.port, settings.host, listening);
  }).catch(async (error: unknown) => {
    await book.close();
    throw error;
  });
  courier.wake();
  const { port } = desk.address() as AddressInfo;
  return {
    port,
    url: `http://${settings.host}:${port}`,
    async stop() {
      const closed = new Promise((done) => desk.close(done));
      desk.closeIdleConnections();
      await courier.stop();
      await closed;
      await book.close();
    },
  };
}
