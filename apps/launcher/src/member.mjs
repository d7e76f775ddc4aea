import { spawn } from 'node:child_process';
import { closeSync, openSync, renameSync, statSync } from 'node:fs';
import { repositoryRoot } from './repository.mjs';
import { endProcess } from './running-process.mjs';

const LOG_LIMIT_BYTES = 5_000_000;
const GENTLE = [
  ['SIGTERM', 15_000],
  ['SIGKILL', 5_000],
];

/** A Node process that leads its own group and writes to its own log. */
export function startMember({ name, script, env, logFile }) {
  const log = openLog(logFile);
  const child = spawn(process.execPath, ['--enable-source-maps', script], {
    cwd: repositoryRoot,
    env,
    detached: true,
    stdio: ['ignore', log, log],
  });
  closeSync(log);
  const ended = new Promise((done) => {
    child.once('error', (error) => done(error.message));
    child.once('exit', (code, signal) => done(signal ? `signal ${signal}` : `code ${code}`));
  });
  const stop = async () => {
    if (child.exitCode === null && child.signalCode === null) await endProcess(child.pid, GENTLE);
    await ended;
  };
  return { name, pid: child.pid, logFile, ended, stop, kill: (signal) => child.kill(signal) };
}

function openLog(file) {
  if ((statSync(file, { throwIfNoEntry: false })?.size ?? 0) > LOG_LIMIT_BYTES) renameSync(file, `${file}.1`);
  return openSync(file, 'a', 0o600);
}
