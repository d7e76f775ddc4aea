import { readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { commandOf, endProcess, isAlive } from './running-process.mjs';
import { StopSentence } from './stop-sentence.mjs';

/**
 * After a `kill -9` of the launcher its server may still run on the folder, and after a power cut
 * postmaster.pid may name a process that has nothing to do with it. The first is stopped, the second forgotten.
 * Only call this while no other launcher holds the folder.
 */
export async function endOrphanedServer(cluster) {
  const pidFile = join(cluster, 'postmaster.pid');
  const pid = readPid(pidFile);
  if (pid === null) return;
  if (!isAlive(pid) || !commandOf(pid).includes(cluster)) {
    rmSync(pidFile, { force: true });
    return;
  }
  const gone = await endProcess(pid, [
    ['SIGINT', 20_000],
    ['SIGQUIT', 5_000],
    ['SIGKILL', 5_000],
  ]);
  if (!gone)
    throw new StopSentence(
      `A database server from an earlier run (process ${pid}) does not end: end it and start again.`,
    );
}

function readPid(pidFile) {
  try {
    const pid = Number(readFileSync(pidFile, 'utf8').split('\n')[0]);
    return Number.isInteger(pid) && pid > 0 ? pid : null;
  } catch (error) {
    if (error.code === 'ENOENT') return null;
    throw error;
  }
}
