import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { setTimeout as pause } from 'node:timers/promises';

/** True while a process with this id exists and holds anything, whoever owns it. */
export function isAlive(pid) {
  try {
    process.kill(pid, 0);
    return !hasEnded(pid);
  } catch (error) {
    return error.code === 'EPERM';
  }
}

/**
 * When the process began, as text that is only good for comparing: ids are used again, an id with the same
 * beginning is the same process. Null when there is no such process.
 */
export function beginningOf(pid) {
  if (process.platform === 'linux') return statFields(pid)?.[19] ?? null;
  const { stdout } = spawnSync('ps', ['-o', 'lstart=', '-p', String(pid)], { encoding: 'utf8' });
  return stdout?.trim() || null;
}

/** The command line of a process, or an empty text when there is none to be seen. */
export function commandOf(pid) {
  try {
    if (process.platform === 'linux')
      return readFileSync(`/proc/${pid}/cmdline`, 'utf8').replaceAll('\0', ' ');
  } catch {
    return '';
  }
  return spawnSync('ps', ['-o', 'args=', '-p', String(pid)], { encoding: 'utf8' }).stdout?.trim() ?? '';
}

/** Waits until the process is gone; false when it is still there after the time. */
export async function waitUntilGone(pid, timeoutMs) {
  const end = Date.now() + timeoutMs;
  while (isAlive(pid)) {
    if (Date.now() > end) return false;
    await pause(25);
  }
  return true;
}

/** Sends each signal in turn, with a pause for the process to go after each; true when it went. */
export async function endProcess(pid, signals) {
  for (const [signal, waitMs] of signals) {
    try {
      process.kill(pid, signal);
    } catch (error) {
      if (error.code === 'ESRCH') return true;
      throw error;
    }
    if (await waitUntilGone(pid, waitMs)) return true;
  }
  return false;
}

/**
 * Ended, and only not yet asked for its exit code by its parent. The first thread of a process is a zombie
 * before the others are gone, and as long as one of them is there the process keeps its ports and files.
 */
function hasEnded(pid) {
  if (process.platform !== 'linux') return false;
  const fields = statFields(pid);
  return fields?.[0] === 'Z' && Number(fields[17]) <= 1;
}

/** Fields of /proc/<pid>/stat from the state on; the name before them may hold spaces and brackets. */
function statFields(pid) {
  try {
    const text = readFileSync(`/proc/${pid}/stat`, 'utf8');
    return text.slice(text.lastIndexOf(')') + 2).split(' ');
  } catch {
    return null;
  }
}
