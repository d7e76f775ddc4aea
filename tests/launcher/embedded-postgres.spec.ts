import { chmod, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { startEmbeddedPostgres } from '../../apps/launcher/src/embedded-postgres.mjs';
import { ensureOwnedDatabase } from '../../apps/launcher/src/owned-database.mjs';
import { isAlive } from '../../apps/launcher/src/running-process.mjs';

type Server = Awaited<ReturnType<typeof startEmbeddedPostgres>>;

let folder: string;
let servers: Server[];

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'lensferry-postgres-'));
  await chmod(folder, 0o711);
  servers = [];
});

afterEach(async () => {
  for (const server of servers) await server.stop();
  await rm(folder, { recursive: true, force: true });
});

const start = async ({ inFolder = folder, throwaway = true } = {}) => {
  const server = await startEmbeddedPostgres({ folder: inFolder, password: 'a b:c/d@e', throwaway });
  servers.push(server);
  return server;
};

const ask = async (url: string, sql: string): Promise<unknown[]> => {
  const client = new pg.Client({ connectionString: url });
  client.on('error', () => {});
  await client.connect();
  try {
    return (await client.query(sql)).rows;
  } finally {
    await client.end();
  }
};

describe('the embedded PostgreSQL', () => {
  it('is a real server of version 18 that asks for the password', async () => {
    const server = await start();
    const [row] = await ask(server.url, `SELECT current_setting('server_version_num')::int / 10000 AS major`);
    expect(row).toEqual({ major: 18 });
    await expect(ask(server.url.replace('a%20b', 'wrong'), 'SELECT 1')).rejects.toThrow(
      /password authentication failed/,
    );
  });

  it('keeps what was committed over a kill -9', async () => {
    const server = await start({ throwaway: false });
    await ask(server.url, `CREATE TABLE kept AS SELECT 42 AS answer`);
    process.kill(server.pid, 'SIGKILL');
    await server.ended;
    expect(await ask((await start({ throwaway: false })).url, 'SELECT answer FROM kept')).toEqual([
      { answer: 42 },
    ]);
  });

  it('ends a server that an earlier launcher left running on the folder', async () => {
    const orphan = await start();
    const heir = await start();
    expect(isAlive(orphan.pid)).toBe(false);
    expect(await orphan.ended).toBe('code 0');
    expect(await ask(heir.url, 'SELECT 1 AS one')).toEqual([{ one: 1 }]);
  });

  it('is not kept from starting by a pid file that names some other process, and leaves that alone', async () => {
    await (await start()).stop();
    const pidFile = join(folder, 'postgres', 'postmaster.pid');
    await writeFile(pidFile, `${process.pid}\n${join(folder, 'postgres')}\n0\n1\n\n127.0.0.1\n\nready\n`);
    const server = await start();
    expect(Number((await readFile(pidFile, 'utf8')).split('\n')[0])).toBe(server.pid);
  });

  it('gives the owner a database, rights to make roles, and nothing beyond', async () => {
    const server = await start();
    const url = await ensureOwnedDatabase(server, { database: 'lensferry', password: 'p@ss' });
    expect(await ensureOwnedDatabase(server, { database: 'lensferry', password: 'p@ss' })).toBe(url);
    expect(
      await ask(
        url,
        'SELECT rolsuper, rolbypassrls, rolcreaterole FROM pg_roles WHERE rolname = current_user',
      ),
    ).toEqual([{ rolsuper: false, rolbypassrls: false, rolcreaterole: true }]);
  });

  it.skipIf(process.getuid?.() !== 0)(
    'starts for root below a folder that no other user may enter',
    async () => {
      await chmod(folder, 0o700);
      const server = await start({ inFolder: join(folder, 'data') });
      const status = await readFile(`/proc/${server.pid}/status`, 'utf8');
      expect(status).toMatch(/^Uid:\t[1-9]/m);
    },
  );
});
