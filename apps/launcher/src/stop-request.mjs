import { endRunningPrograms } from './run-program.mjs';

/** Thrown where work is given up because somebody asked to stop; nobody needs to read it. */
export class Stopped extends Error {}

const PARENT_CHECK_MS = 500;

/**
 * Listens for Ctrl-C, a closed terminal and an ordinary kill. npm passes a signal on that the terminal has
 * already delivered, so every further one is ignored.
 */
export function listenForStop() {
  let tell;
  let isRequested = false;
  const requested = new Promise((done) => (tell = done));
  const request = (reason) => {
    if (isRequested) return;
    isRequested = true;
    endRunningPrograms();
    tell(reason);
  };
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, request);
  if (process.env.npm_lifecycle_event) watchParent(() => request('npm is gone'));
  return {
    requested,
    isRequested: () => isRequested,
    throwIfRequested: () => {
      if (isRequested) throw new Stopped();
    },
  };
}

/**
 * npm hands a signal to the shell between it and us, and that shell ends without passing it on: our parent going
 * is then all that we see of it.
 */
function watchParent(onGone) {
  const parent = process.ppid;
  setInterval(() => {
    if (process.ppid !== parent) onGone();
  }, PARENT_CHECK_MS).unref();
}
