import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { beginningOf, isAlive } from './running-process.mjs';

/**
 * A lock that a killed process cannot leave behind: the file names its holder and when that process began,
 * so a stale one is seen and taken over. Returns null when it is taken, else the living holder's process id.
 */
export function tryLock(file) {
  for (;;) {
    try {
      writeFileSync(file, JSON.stringify({ pid: process.pid, beginning: beginningOf(process.pid) }), {
        flag: 'wx',
        mode: 0o644,
      });
      return null;
    } catch (error) {
      if (error.code !== 'EEXIST') throw error;
    }
    const holder = readHolder(file);
    if (holder && isStillThere(holder)) return holder.pid;
    rmSync(file, { force: true });
  }
}

/** Gives the lock back, unless somebody else has taken it over. */
export function unlock(file) {
  if (readHolder(file)?.pid === process.pid) rmSync(file, { force: true });
}

/** True while the very process that was noted is alive, not only one with its number. */
export function isStillThere({ pid, beginning }) {
  return isAlive(pid) && beginningOf(pid) === beginning;
}

function readHolder(file) {
  try {
    return JSON.parse(readFileSync(file, 'utf8'));
  } catch {
    return null;
  }
}
