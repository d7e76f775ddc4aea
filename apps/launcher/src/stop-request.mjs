import { endRunningPrograms } from './run-program.mjs';

/** Thrown where work is given up because somebody asked to stop; nobody needs to read it. */
export class Stopped extends Error {}

/**
 * Listens for Ctrl-C, a closed terminal and an ordinary kill. npm passes a signal on that the terminal has
 * already delivered, so every further one is ignored.
 */
export function listenForStop() {
  let tell;
  let isRequested = false;
  const requested = new Promise((done) => (tell = done));
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) {
    process.on(signal, () => {
      if (isRequested) return;
      isRequested = true;
      endRunningPrograms();
      tell(signal);
    });
  }
  return {
    requested,
    isRequested: () => isRequested,
    throwIfRequested: () => {
      if (isRequested) throw new Stopped();
    },
  };
}
