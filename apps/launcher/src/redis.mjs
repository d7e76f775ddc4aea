import { spawn } from 'node:child_process';
import { closeSync, mkdirSync, openSync } from 'node:fs';
import { connect } from 'node:net';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { canInstallWithApt, findProgram, installWithApt } from './find-program.mjs';
import { findFreePort } from './free-port.mjs';
import { withProgress } from './progress.mjs';
import { endProcess } from './running-process.mjs';

const READY_TIMEOUT_MS = 15_000;

/** The Redis server program on this machine, or null. */
export function findRedis() {
  return findProgram(['redis-server', 'valkey-server']);
}

/** Looks for Redis and installs it where this user may. Without it the Redis variants of the tests are skipped. */
export async function findOrInstallRedis(log) {
  if (findRedis() || !canInstallWithApt()) return findRedis();
  await withProgress(log, 'Installing Redis with apt-get', () => installWithApt('redis-server'));
  return findRedis();
}

/**
 * Starts a Redis server of one's own on loopback, which keeps what it was told on disk (so that it can be killed
 * and started again on the same folder and port). BullMQ needs the `noeviction` policy.
 */
export async function startRedis({ folder, port }) {
  const program = findRedis();
  if (!program) throw new Error('There is no redis-server on PATH.');
  mkdirSync(folder, { recursive: true });
  const chosenPort = port ?? (await findFreePort());
  const log = openSync(join(folder, 'redis.log'), 'a', 0o600);
  const options = {
    bind: '127.0.0.1',
    port: chosenPort,
    dir: folder,
    appendonly: 'yes',
    appendfsync: 'everysec',
    'maxmemory-policy': 'noeviction',
    save: '',
  };
  const args = Object.entries(options).flatMap(([name, value]) => [`--${name}`, String(value)]);
  const child = spawn(program, args, { detached: true, stdio: ['ignore', log, log] });
  closeSync(log);
  let exited = false;
  const ended = new Promise((done) => {
    child.once('error', (error) => done(error.message));
    child.once('exit', (code, signal) => {
      exited = true;
      done(signal ? `signal ${signal}` : `code ${code}`);
    });
  });
  await waitForPong(chosenPort, () => exited);
  const stop = async () => {
    if (!exited)
      await endProcess(child.pid, [
        ['SIGTERM', 10_000],
        ['SIGKILL', 5_000],
      ]);
    await ended;
  };
  return {
    url: `redis://127.0.0.1:${chosenPort}`,
    port: chosenPort,
    pid: child.pid,
    logFile: join(folder, 'redis.log'),
    ended,
    stop,
  };
}

async function waitForPong(port, hasExited) {
  const end = Date.now() + READY_TIMEOUT_MS;
  while (!(await answersPing(port))) {
    if (hasExited() || Date.now() > end)
      throw new Error('redis-server did not start: see redis.log in its folder.');
    await pause(25);
  }
}

function answersPing(port) {
  return new Promise((done) => {
    const socket = connect(port, '127.0.0.1', () => socket.write('PING\r\n'));
    socket.setTimeout(1_000, () => socket.destroy());
    socket.once('data', (answer) => {
      done(String(answer).startsWith('+PONG'));
      socket.destroy();
    });
    socket.once('error', () => done(false));
    socket.once('close', () => done(false));
  });
}
