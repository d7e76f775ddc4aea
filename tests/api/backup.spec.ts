import { execFile } from 'node:child_process';
import { mkdtemp, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { gunzipSync, gzipSync } from 'node:zlib';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { leftOut } from '../../apps/api/dist/backup/tables.js';
import { verifyChains } from '../../apps/api/dist/platform/verify-chain.js';
import { buildServer, openDatabase } from '../../apps/api/dist/server.js';
import { freshDatabase, type FreshDatabase } from '../support/fresh-database.js';
import { openHouse, password, type House } from '../support/house.js';
import { implant, sceneAt } from '../support/scenes.js';
import { asSuperuser } from '../support/superuser.js';

describe('a backup', () => {
  let house: House;
  let folder = '';
  let file = '';
  let orderId = '';
  const others: FreshDatabase[] = [];

  beforeAll(async () => {
    house = await openHouse();
    for (const clinic of ['EST', 'NOR'] as const)
      await implant(await sceneAt(house, 'accepted', { clinic, patient: 'Quastermann' }));
    orderId = (await sceneAt(house, 'submitted', { clinic: 'EST' })).orderId;
    await house.signIn('una');
    folder = await mkdtemp(join(tmpdir(), 'lensferry-backup-'));
    file = join(folder, 'one.backup');
  });
  afterAll(async () => {
    for (const each of others) await each.drop();
    await house?.close();
    await rm(folder, { recursive: true, force: true });
  });

  const run = (script: string, databaseUrl: string, ...args: string[]) =>
    promisify(execFile)(process.execPath, [`apps/api/dist/${script}.js`, ...args], {
      env: { PATH: process.env['PATH'], DATABASE_URL: databaseUrl, TZ: 'Pacific/Chatham' },
    }).then(
      ({ stdout }) => ({ code: 0, told: stdout }),
      (error: { code: number; stderr: string }) => ({ code: error.code, told: error.stderr }),
    );
  const another = async (): Promise<FreshDatabase> => {
    const made = await freshDatabase();
    others.push(made);
    return made;
  };
  /** Every row of every table as PostgreSQL writes it, by table. */
  const everything = async (of: FreshDatabase): Promise<Record<string, string[]>> => {
    const root = await asSuperuser(of);
    try {
      const held: Record<string, string[]> = {};
      for (const name of Object.keys(await root.counts()))
        if (!leftOut.includes(name))
          held[name] = (await root.rows(`select t::text as row from "${name}" t order by 1`)).map(
            ({ row }) => row as string,
          );
      return held;
    } finally {
      await root.close();
    }
  };
  const edit = async (name: string, change: (text: string) => string): Promise<string> => {
    const path = join(folder, name);
    await writeFile(path, gzipSync(change(gunzipSync(await readFile(file)).toString('utf8'))));
    return path;
  };

  it('holds every row, is readable by its user only, and neither key nor name in clear', async () => {
    const odd = '"quoted", \\back\\, \'single\'\nnew line\t{brace} ångström 眼 \u{1f441}';
    const root = await asSuperuser(house.db);
    await root.rows('update lens_order set note = $1 where id = $2', [odd, orderId]);
    await root.rows(`update lens_order set change = 'null'::jsonb where id = $1`, [orderId]);
    await root.rows(`insert into network_setting values ('odd', $1::jsonb)`, [
      '{"n": 0.1000, "big": 12345678901234567890123}',
    ]);
    await root.close();
    expect(await run('backup', house.db.databaseUrl, file)).toMatchObject({ code: 0 });
    expect((await stat(file)).mode & 0o777).toBe(0o600);
    const text = gunzipSync(await readFile(file)).toString('utf8');
    expect(text).not.toContain(house.settings.IDENTITY_KEY);
    expect(text).not.toContain('Quastermann');
    expect(text).not.toContain('"table":{"name":"session"');
    const again = await run('backup', house.db.databaseUrl, file);
    expect(again).toMatchObject({ code: 1, told: expect.stringContaining('is there already') });
  });

  it('gives back every table row for row, a record that is whole, and a product that works', async () => {
    const target = await another();
    const before = await everything(house.db);
    expect(await run('restore', target.databaseUrl, file)).toMatchObject({ code: 0 });
    const back = await everything(target);
    for (const [name, rows] of Object.entries(before)) expect(back[name], name).toEqual(rows);
    expect(Object.values(before).filter((rows) => rows.length > 0).length).toBeGreaterThan(20);
    const client = new pg.Client({ connectionString: target.superuserUrl });
    await client.connect();
    for (const { faults } of await verifyChains(client)) expect(faults).toEqual([]);
    const { rows: open } = await client.query(
      `select relname from pg_class where relnamespace = 'public'::regnamespace and relkind = 'r'
       and relname <> '_prisma_migrations' and not (relrowsecurity and relforcerowsecurity)`,
    );
    expect(open).toEqual([]);
    // Nothing here counts by a sequence: numbers come from the table of counters, which is among the rows.
    expect((await client.query(`select from pg_sequences where schemaname = 'public'`)).rows).toEqual([]);
    await client.end();
    await use(target);
  });

  /** Signs in, looks at an identity that was sealed before, and takes a step. */
  const use = async (target: FreshDatabase): Promise<void> => {
    const settings = { ...house.settings, DATABASE_URL: target.databaseUrl };
    const database = openDatabase(settings);
    const app = await buildServer(settings, database);
    try {
      await app.init();
      await app.getHttpAdapter().getInstance().ready();
      const headers = { 'x-lensferry': '1' };
      const signedIn = await app.inject({
        method: 'POST',
        url: '/api/session',
        headers,
        payload: { email: 'ilse@lensferry.example', password },
      });
      const cookie = String(signedIn.headers['set-cookie']).split(';')[0]!;
      const get = async (url: string) =>
        JSON.parse((await app.inject({ url, headers: { ...headers, cookie } })).payload);
      const { items } = await get('/api/cases');
      const identities = await Promise.all(
        items.map(({ id }: { id: string }) => get(`/api/cases/${id}/identity`)),
      );
      expect(identities.map(({ name }) => name)).toContain('Quastermann');
      const order = await get(`/api/orders/${orderId}`);
      const step = await app.inject({
        method: 'POST',
        url: `/api/orders/${orderId}/request-changes`,
        headers: { ...headers, cookie },
        payload: { version: order.version, why: 'After the restore.' },
      });
      expect([step.statusCode, JSON.parse(step.payload).state]).toEqual([200, 'changes_requested']);
    } finally {
      await app.close();
      await database.close();
    }
  };

  it('is never put over rows unless told so', async () => {
    const target = others[0]!;
    const before = await everything(target);
    expect(await run('restore', target.databaseUrl, file)).toMatchObject({
      code: 1,
      told: expect.stringContaining('say --replace'),
    });
    expect(await everything(target)).toEqual(before);
    expect(await run('restore', target.databaseUrl, file, '--replace')).toMatchObject({ code: 0 });
    expect(await everything(target)).toEqual(await everything(house.db));
  });

  it('is refused when it was cut off or changed, and leaves the database as it was', async () => {
    const target = await another();
    const empty = await everything(target);
    const whole = await readFile(file);
    await writeFile(join(folder, 'cut'), whole.subarray(0, whole.length - 2000));
    const lines = (text: string) => text.trimEnd().split('\n');
    const files = [
      join(folder, 'cut'),
      await edit('no-end', (text) => lines(text).slice(0, -1).join('\n')),
      await edit('changed', (text) => text.replace('After', 'Before').replaceAll('submitted', 'approved')),
      await edit('row-gone', (text) =>
        lines(text)
          .filter((line) => !line.includes('"EST-0001'))
          .join('\n'),
      ),
      await edit('no-head', (text) => text.replace('lensferry-backup-1', 'something-else')),
      await edit('newer', (text) => text.replace(/"migrations":\[\{"name":"/, '$&9')),
    ];
    for (const each of files) {
      const { code, told } = await run('restore', target.databaseUrl, each);
      expect([code, told], each).toEqual([1, expect.stringMatching(/backup|read to its end|changed|whole/)]);
      expect(await everything(target), each).toEqual(empty);
    }
  });
});
