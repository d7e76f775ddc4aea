import { cp, mkdtemp, mkdir, rm, writeFile, readFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { MigrationRefused } from '../../apps/api/src/platform/migrations/migration-errors.js';
import { migrationsFolder, readMigrations } from '../../apps/api/src/platform/migrations/read-migrations.js';
import {
  listPendingMigrations,
  runMigrations,
} from '../../apps/api/src/platform/migrations/run-migrations.js';
import { diagnoseHistory } from '../../prisma/schema-engine.mjs';
import { freshDatabase, type FreshDatabase } from '../support/fresh-database.js';

let database: FreshDatabase;
let folder: string;

beforeEach(async () => {
  database = await freshDatabase();
  folder = await mkdtemp(join(tmpdir(), 'lensferry-migrations-'));
  await cp(migrationsFolder, folder, { recursive: true });
});

afterEach(async () => {
  await database.drop();
  await rm(folder, { recursive: true, force: true });
});

const addMigration = async (name: string, sql: string) => {
  await mkdir(join(folder, name), { recursive: true });
  await writeFile(join(folder, name, 'migration.sql'), sql);
};

const query = async (sql: string) => {
  const client = new pg.Client({ connectionString: database.superuserUrl });
  await client.connect();
  try {
    return (await client.query(sql)).rows;
  } finally {
    await client.end();
  }
};

const refusal = (code: string, words: RegExp) =>
  expect.objectContaining({
    name: 'MigrationRefused',
    code,
    message: expect.stringMatching(words) as string,
  });

describe('the migration runner', () => {
  it('finds nothing to do on a database that has every migration', async () => {
    expect(await runMigrations({ databaseUrl: database.databaseUrl })).toEqual([]);
    expect(await listPendingMigrations({ databaseUrl: database.databaseUrl })).toEqual([]);
  });

  it('applies a new migration once, though several processes ask at the same time', async () => {
    await addMigration('99990101000000_marks', 'CREATE TABLE mark (id int); INSERT INTO mark VALUES (1);');
    const runs = await Promise.all(
      [1, 2, 3].map(() => runMigrations({ databaseUrl: database.databaseUrl, folder })),
    );
    expect(runs.flat()).toEqual(['99990101000000_marks']);
    expect(await query('SELECT count(*)::int AS n FROM mark')).toEqual([{ n: 1 }]);
  });

  it('runs a body with semicolons in it as one piece', async () => {
    await addMigration(
      '99990101000000_block',
      `DO $$ BEGIN CREATE TABLE made (id int); PERFORM 1; END $$; INSERT INTO made VALUES (7);`,
    );
    await runMigrations({ databaseUrl: database.databaseUrl, folder });
    expect(await query('SELECT id FROM made')).toEqual([{ id: 7 }]);
  });

  it('leaves nothing of a migration that fails, and names it', async () => {
    await addMigration('99990101000000_broken', 'CREATE TABLE half (id int); SELECT 1/0;');
    await expect(runMigrations({ databaseUrl: database.databaseUrl, folder })).rejects.toEqual(
      refusal('migration.failed', /99990101000000_broken failed and was undone: division by zero/),
    );
    expect(await query(`SELECT to_regclass('half') AS half`)).toEqual([{ half: null }]);
    expect(await listPendingMigrations({ databaseUrl: database.databaseUrl, folder })).toEqual([
      '99990101000000_broken',
    ]);
  });

  it('refuses a migration that was changed after it had been applied', async () => {
    const [first] = await readMigrations(folder);
    await writeFile(join(folder, first!.name, 'migration.sql'), `${first!.sql}\n-- afterthought`);
    await expect(runMigrations({ databaseUrl: database.databaseUrl, folder })).rejects.toEqual(
      refusal('migration.changed', new RegExp(`${first!.name} was changed`)),
    );
  });

  it('takes turned line ends for no change', async () => {
    const [first] = await readMigrations(folder);
    await writeFile(join(folder, first!.name, 'migration.sql'), first!.sql.replaceAll('\n', '\r\n'));
    expect(await runMigrations({ databaseUrl: database.databaseUrl, folder })).toEqual([]);
  });

  it('refuses a database that has a migration from a later version', async () => {
    const last = (await readMigrations(folder)).at(-1)!;
    await rm(join(folder, last.name), { recursive: true });
    await expect(runMigrations({ databaseUrl: database.databaseUrl, folder })).rejects.toEqual(
      refusal('migration.unknown', new RegExp(`${last.name}, which is missing here`)),
    );
  });

  it('refuses a migration that another tool left unfinished', async () => {
    await query(
      `UPDATE "_prisma_migrations" SET finished_at = NULL WHERE migration_name = (SELECT max(migration_name) FROM "_prisma_migrations")`,
    );
    await expect(runMigrations({ databaseUrl: database.databaseUrl, folder })).rejects.toEqual(
      refusal('migration.unfinished', /not finished/),
    );
  });

  it('says so when the database cannot be reached', async () => {
    const run = runMigrations({ databaseUrl: 'postgresql://nobody:x@127.0.0.1:1/none', folder });
    await expect(run).rejects.toBeInstanceOf(MigrationRefused);
    await expect(run).rejects.toThrow(/cannot be reached \(connect ECONNREFUSED/);
  });

  it("keeps the history as Prisma's own engine wants it", async () => {
    const agreed = await diagnoseHistory({ databaseUrl: database.databaseUrl, migrationsFolder: folder });
    expect(agreed).toMatchObject({
      hasMigrationsTable: true,
      history: null,
      editedMigrationNames: [],
      failedMigrationNames: [],
    });
    const [first] = await readMigrations(folder);
    const file = join(folder, first!.name, 'migration.sql');
    await writeFile(file, `${await readFile(file, 'utf8')}\n-- afterthought`);
    const edited = await diagnoseHistory({ databaseUrl: database.databaseUrl, migrationsFolder: folder });
    expect(edited.editedMigrationNames).toEqual([first!.name]);
  });
});
