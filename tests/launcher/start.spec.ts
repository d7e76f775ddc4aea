import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { createServer } from 'node:http';
import { type AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { findFreePort } from '../../apps/launcher/src/free-port.mjs';
import { isAlive, waitUntilGone } from '../../apps/launcher/src/running-process.mjs';
import { launch, NPM_START, treeOf, type Launch } from '../support/launch.js';

let folder: string;
let port: number;
let launches: Launch[];

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'lensferry-start-'));
  port = await findFreePort();
  launches = [];
});

afterEach(async () => {
  for (const { child, ended } of launches) {
    child.kill('SIGTERM');
    await ended;
  }
  await rm(folder, { recursive: true, force: true });
});

const start = (env: Record<string, string> = {}, args: string[] = [], command?: string[]) => {
  const started = launch(
    { DATA_DIR: join(folder, 'data'), PORT: String(port), LENSFERRY_DEMO: '0', ...env },
    args,
    command,
  );
  launches.push(started);
  return started;
};

const statusOf = (path: string) => fetch(`http://127.0.0.1:${port}${path}`).then((answer) => answer.status);

const allGone = async (pids: number[]) => {
  for (const pid of pids) expect(await waitUntilGone(pid, 10_000), `process ${pid}`).toBe(true);
};

describe('npm start', () => {
  it('says where it is when it is ready, and serves API and pages there', async () => {
    const started = start();
    await started.ready;
    expect(started.output()).toContain(`Lensferry is ready at http://localhost:${port}`);
    expect(await statusOf('/health/ready')).toBe(200);
    expect(await statusOf('/')).toBe(200);
  });

  it.each(['SIGINT', 'SIGTERM', 'SIGHUP'] as const)(
    'ends every process on %s, with exit code 0',
    async (signal) => {
      const started = start();
      await started.ready;
      const tree = treeOf(started.child.pid ?? 0);
      expect(tree.length).toBeGreaterThan(2);
      started.child.kill(signal);
      expect(await started.ended).toBe(0);
      await allGone(tree);
      const log = await readFile(join(folder, 'data', 'postgres.log'), 'utf8');
      expect(log.trim().split('\n').at(-1)).toMatch(/database system is shut down/);
    },
  );

  it('ends every process when npm is told to end', async () => {
    const started = start({}, [], NPM_START);
    await started.ready;
    const tree = treeOf(started.child.pid ?? 0);
    started.child.kill('SIGTERM');
    await allGone(tree);
    const log = await readFile(join(folder, 'data', 'postgres.log'), 'utf8');
    expect(log.trim().split('\n').at(-1)).toMatch(/database system is shut down/);
  });

  it('starts again on the same data after a kill -9 of the whole tree', async () => {
    const first = start();
    await first.ready;
    const settings = await readFile(join(folder, 'data', 'settings.json'), 'utf8');
    for (const pid of treeOf(first.child.pid ?? 0)) process.kill(pid, 'SIGKILL');
    await first.ended;
    const second = start();
    await second.ready;
    expect(second.output()).toContain('The database is up to date');
    expect(await readFile(join(folder, 'data', 'settings.json'), 'utf8')).toBe(settings);
  });

  it('ends what a killed launcher left running, and takes its place', async () => {
    const first = start();
    await first.ready;
    const [launcher, ...orphans] = treeOf(first.child.pid ?? 0);
    process.kill(launcher ?? 0, 'SIGKILL');
    await first.ended;
    expect(orphans.some(isAlive)).toBe(true);
    await start().ready;
    await allGone(orphans);
    expect(await statusOf('/health/ready')).toBe(200);
  });

  it('ends everything with a sentence when the API dies', async () => {
    const started = start();
    await started.ready;
    const running = JSON.parse(await readFile(join(folder, 'data', 'running.json'), 'utf8')) as {
      name: string;
      pid: number;
    }[];
    process.kill(running.find(({ name }) => name === 'API')?.pid ?? 0, 'SIGKILL');
    expect(await started.ended).toBe(1);
    expect(started.output()).toMatch(/The API ended by itself \(signal SIGKILL\), so the rest was ended too/);
    await allGone(running.map(({ pid }) => pid));
  });

  it('refuses a second start on the same data, and leaves the first alone', async () => {
    await start().ready;
    const second = start({ PORT: String(await findFreePort()) }, ['--fresh']);
    expect(await second.ended).toBe(1);
    expect(second.output()).toMatch(
      /already runs on .* end it, or set DATA_DIR and PORT to run a second one\.\n$/,
    );
    expect(await statusOf('/health/ready')).toBe(200);
  });

  it('begins anew with --fresh', async () => {
    const first = start();
    await first.ready;
    const settings = await readFile(join(folder, 'data', 'settings.json'), 'utf8');
    first.child.kill('SIGINT');
    await first.ended;
    const second = start({}, ['--fresh']);
    await second.ready;
    expect(second.output()).toMatch(/Removed the earlier data/);
    expect(await readFile(join(folder, 'data', 'settings.json'), 'utf8')).not.toBe(settings);
  });

  it('says in one sentence that the port is taken', async () => {
    const server = createServer().listen(0, '127.0.0.1');
    await new Promise((done) => server.once('listening', done));
    const started = start({ PORT: String((server.address() as AddressInfo).port) });
    expect(await started.ended).toBe(1);
    expect(started.output()).toMatch(
      /^Port \d+ is taken by another program: end that program, or choose another one/m,
    );
    expect(started.output()).not.toContain(' at ');
    server.close();
  });

  it('says in one sentence that a setting is wrong', async () => {
    const started = start({ PORT: 'many' });
    expect(await started.ended).toBe(1);
    expect(started.output()).toBe(
      'Lensferry cannot start like this: PORT must be a whole number from 1 to 65535, not many.\n',
    );
  });

  it('lists its options and settings', async () => {
    const started = start({}, ['--help']);
    expect(await started.ended).toBe(0);
    for (const word of ['--fresh', 'PORT', 'DATA_DIR', 'DATABASE_URL', 'REDIS_URL'])
      expect(started.output()).toContain(word);
  });
});
