import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Inbox, maker, order, post } from '../support/lensferry-stand-in.js';

let folder: string;
let inbox: Inbox;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'maker-simulator-'));
  inbox = await Inbox.open();
});
afterEach(async () => {
  await inbox.close();
  await rm(folder, { recursive: true });
});

describe('the process itself', () => {
  const main = fileURLToPath(new URL('../dist/main.js', import.meta.url));
  const environment = () => ({
    PATH: process.env['PATH'],
    SIMULATOR_PORT: '0',
    SIMULATOR_DATA_DIR: folder,
    SIMULATOR_SECONDS_PER_DAY: '0.05',
    LENSFERRY_URL: inbox.url,
    SIMULATOR_MAKERS: JSON.stringify([maker]),
  });
  const spawned: ChildProcess[] = [];

  function launch(env: NodeJS.ProcessEnv) {
    const child = spawn(process.execPath, [main], { env, stdio: ['ignore', 'pipe', 'pipe'] });
    spawned.push(child);
    let output = '';
    let errors = '';
    child.stderr.on('data', (text) => (errors += String(text)));
    const ended = new Promise<{ code: number | null; errors: string }>((done) =>
      child.on('close', (code) => done({ code, errors })),
    );
    const ready = new Promise<string>((done, failed) => {
      child.stdout.on('data', (text) => {
        output += String(text);
        const url = /ready at (\S+)/.exec(output)?.[1];
        if (url) done(url);
      });
      void ended.then(() => failed(new Error(errors)));
    });
    ready.catch(() => undefined);
    return { child, ready, ended };
  }

  afterEach(() => {
    for (const child of spawned.splice(0)) child.kill('SIGKILL');
  });

  it('loses nothing and doubles no lens through kill -9', async () => {
    let { child, ready, ended } = launch(environment());
    let sent = 0;
    for (let round = 0; round < 3; round += 1) {
      const url = await ready;
      for (let i = 0; i < 5; i += 1) {
        sent += 1;
        expect((await post(url, order(sent), `k${sent}`)).status).toBe(202);
      }
      child.kill('SIGKILL');
      await ended;
      ({ child, ready, ended } = launch(environment()));
    }
    const url = await ready;
    await inbox.until(() => inbox.ids('order.shipped').size === sent);
    for (let n = 1; n <= sent; n += 1) expect((await post(url, order(n), `k${n}`)).status).toBe(202);
    expect(((await (await fetch(`${url}/makers/TERN/orders`)).json()) as { count: number }).count).toBe(sent);
    expect(inbox.ids('order.acknowledged').size).toBe(sent);
    child.kill('SIGTERM');
    expect((await ended).code).toBe(0);
  }, 30_000);

  it('lists every bad setting and stops', async () => {
    const { ended } = launch({
      ...environment(),
      SIMULATOR_PORT: 'http',
      LENSFERRY_URL: 'nowhere',
      SIMULATOR_MAKERS: '[{]',
    });
    const { code, errors } = await ended;
    expect(code).toBe(1);
    for (const name of ['SIMULATOR_PORT', 'LENSFERRY_URL', 'SIMULATOR_MAKERS'])
      expect(errors).toContain(name);
    expect(errors).not.toContain('    at ');
  });

  it('says in one sentence that its port is taken', async () => {
    const port = String(new URL(inbox.url).port);
    const { code, errors } = await launch({ ...environment(), SIMULATOR_PORT: port }).ended;
    expect(code).toBe(1);
    expect(errors.trim()).toBe('The port in SIMULATOR_PORT is taken; choose another.');
  });
});
