import pg from 'pg';
import { migrationsFolder, readMigrations } from '../platform/migrations/read-migrations.js';
import { runMigrations } from '../platform/migrations/run-migrations.js';
import { BackupRefused, readBackup, tableSum, type Head, type Line } from './backup-file.js';
import { quoted, readTables, type Client, type Table } from './tables.js';

const page = 500;

export interface RestoreReport {
  readonly madeAt: string;
  readonly tables: number;
  readonly rows: number;
  /** Migrations that came after the backup and were applied to what it holds. */
  readonly migrated: readonly string[];
}

/**
 * Puts a backup into a database, all of it or nothing. The database is migrated to where the backup stands, filled,
 * and migrated on. With rows in it, it is refused unless `replace` says that they are to go.
 * @throws BackupRefused when the file is not whole, or the database is not for it.
 */
export async function restoreBackup(
  databaseUrl: string,
  file: string,
  { replace = false }: { replace?: boolean } = {},
): Promise<RestoreReport> {
  const lines = readBackup(file);
  const head = readHead(file, (await lines.next()).value as string | undefined);
  await requireKnown(head);
  const upTo = head.migrations.at(-1)?.name;
  await runMigrations({ databaseUrl, ...(upTo === undefined ? {} : { upTo }) });
  const client = new pg.Client({ connectionString: databaseUrl });
  await client.connect();
  try {
    await requirePlace(client, head, replace);
    await client.query(`set timezone = 'UTC'; begin`);
    const report = await fill(client, file, lines, replace);
    await client.query('commit');
    return { ...report, madeAt: head.madeAt, migrated: await runMigrations({ databaseUrl }) };
  } finally {
    await client.end();
  }
}

function readHead(file: string, line: string | undefined): Head {
  try {
    const head = JSON.parse(line ?? '') as Head;
    if (head.format === 'lensferry-backup-1') return head;
  } catch {
    // Said below.
  }
  throw new BackupRefused(`${file} is no backup of Lensferry.`);
}

async function requireKnown({ migrations }: Head): Promise<void> {
  const known = new Map(
    (await readMigrations(migrationsFolder)).map(({ name, checksum }) => [name, checksum]),
  );
  for (const { name, checksum } of migrations)
    if (known.get(name) !== checksum)
      throw new BackupRefused(
        `The backup stands at migration ${name}, which this version ${known.has(name) ? 'has in another form' : 'lacks'}: restore it with the version that made it.`,
      );
}

async function requirePlace(client: Client, head: Head, replace: boolean): Promise<void> {
  const { rows } = await client.query<{ name: string }>(
    `select migration_name as name from _prisma_migrations where finished_at is not null order by 1`,
  );
  if (rows.map(({ name }) => name).join() !== head.migrations.map(({ name }) => name).join())
    throw new BackupRefused('The database is newer than the backup: restore into a new, empty database.');
  if (replace) return;
  await client.query('begin');
  try {
    for (const { name } of await readTables(client)) {
      // The owner sees no clinic's rows; without FORCE it does, and the rollback sets it again.
      await client.query(`alter table ${quoted(name)} no force row level security`);
      const { rowCount } = await client.query(`select from ${quoted(name)} limit 1`);
      if (rowCount)
        throw new BackupRefused(
          `The database has rows already (${name}): restore into a new one, or say --replace to lose what is there.`,
        );
    }
  } finally {
    await client.query('rollback');
  }
}

async function fill(
  client: Client,
  file: string,
  lines: AsyncGenerator<string>,
  replace: boolean,
): Promise<{ tables: number; rows: number }> {
  const tables = await readTables(client);
  const byName = new Map(tables.map((table) => [table.name, table]));
  if (replace) await empty(client, tables);
  for (const { name } of tables)
    await client.query(`alter table ${quoted(name)} no force row level security`);
  const done = { tables: 0, rows: 0 };
  let open: { table: Table; sum: ReturnType<typeof tableSum>; waiting: string[] } | undefined;
  let ended = false;
  for await (const text of lines) {
    const line = parse(file, text);
    if (ended) throw new BackupRefused(`${file} goes on after its end.`);
    if (Array.isArray(line)) {
      if (open === undefined) throw new BackupRefused(`${file} has a row outside of a table.`);
      open.sum.add(text);
      open.waiting.push(text);
      if (open.waiting.length >= page) await insert(client, open.table, open.waiting.splice(0));
    } else if ('table' in line) {
      const known = byName.get(line.table.name);
      if (known === undefined || open !== undefined) throw new BackupRefused(`${file} has a table too many.`);
      // Types and names come from the database, so that no file can bring a statement of its own.
      if (JSON.stringify(known.columns) !== JSON.stringify(line.table.columns))
        throw new BackupRefused(`${file} has other columns in ${known.name} than the database.`);
      byName.delete(known.name);
      open = { table: known, sum: tableSum(), waiting: [] };
    } else if ('sha256' in line) {
      if (open === undefined) throw new BackupRefused(`${file} ends a table that did not begin.`);
      await insert(client, open.table, open.waiting);
      const { rows, sha256 } = open.sum.end();
      if (rows !== line.rows || sha256 !== line.sha256)
        throw new BackupRefused(`${file} was changed: the rows of ${open.table.name} have another checksum.`);
      done.tables += 1;
      done.rows += rows;
      open = undefined;
    } else ended = 'end' in line && line.tables === done.tables;
  }
  if (!ended || byName.size > 0) throw new BackupRefused(`${file} is not whole: its end is missing.`);
  for (const { name } of tables) await client.query(`alter table ${quoted(name)} force row level security`);
  return done;
}

function parse(file: string, text: string): Line {
  try {
    return JSON.parse(text) as Line;
  } catch (error) {
    throw new BackupRefused(`${file} has a line that can't be read.`, { cause: error });
  }
}

/** Takes out what is there, and what waits in PostgreSQL to be sent for it. */
async function empty(client: Client, tables: readonly Table[]): Promise<void> {
  await client.query(`truncate session, ${tables.map(({ name }) => quoted(name)).join(', ')}`);
  await client.query('drop schema if exists bullmq cascade');
}

async function insert(client: Client, { name, columns }: Table, rows: readonly string[]): Promise<void> {
  if (rows.length === 0) return;
  const names = columns.map((column) => quoted(column.name)).join(', ');
  const values = columns.map(({ type }, index) => `(r ->> ${index})::${type}`).join(', ');
  await client.query(
    `insert into ${quoted(name)} (${names}) select ${values} from json_array_elements($1::json) as r`,
    [`[${rows.join(',')}]`],
  );
}
