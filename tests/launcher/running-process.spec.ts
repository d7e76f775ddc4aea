import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { describe, expect, it } from 'vitest';
import { findFreePort, isPortFree } from '../../apps/launcher/src/free-port.mjs';
import { isAlive } from '../../apps/launcher/src/running-process.mjs';

/** Listens, with other threads and enough memory that its end takes a moment. */
const SERVER = `
  const { Worker } = require('node:worker_threads');
  const memory = Buffer.alloc(1e8, 1);
  const busy = 'const kept = []; for (let i = 0; i < 1e6; i += 1) kept.push({ i }); setInterval(() => kept, 1000)';
  const threads = [1, 2, 3].map(() => new Worker(busy, { eval: true }));
  Promise.all(threads.map((thread) => new Promise((done) => thread.once('online', done)))).then(() =>
    require('node:http').createServer().listen(Number(process.argv[1]), '127.0.0.1', () => console.log(memory.length)),
  );
`;

describe('a process that is killed', () => {
  it('counts as alive as long as it holds its port', { repeats: 5 }, async () => {
    const port = await findFreePort();
    const child = spawn(process.execPath, ['-e', SERVER, String(port)], {
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    await once(child.stdout, 'data');
    expect(await isPortFree(port, '127.0.0.1')).toBe(false);
    const exited = once(child, 'exit');
    child.kill('SIGKILL');
    // Without a pause, so that the moment between the end of its first thread and that of its last is met.
    while (isAlive(child.pid ?? 0));
    expect(await isPortFree(port, '127.0.0.1')).toBe(true);
    await exited;
  });
});
