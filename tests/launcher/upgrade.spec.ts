import { randomUUID } from 'node:crypto';
import pg from 'pg';
import { afterAll, describe, expect, it } from 'vitest';
import { migrationsFolder, readMigrations } from '../../apps/api/src/platform/migrations/read-migrations.js';
import { runMigrations } from '../../apps/api/src/platform/migrations/run-migrations.js';
import { OWNER_PASSWORD } from '../support/fresh-database.js';

type Row = Record<string, unknown>;
interface Column {
  readonly name: string;
  readonly type: string;
  /** The first label, where the type is an enum. */
  readonly label: string | null;
}
interface Table {
  readonly name: string;
  readonly columns: Column[];
  readonly links: { to: string; own: string[]; theirs: string[] }[];
}

const made: string[] = [];
const addressOf = (database: string, user?: string, password?: string): string => {
  const url = new URL(process.env['TEST_POSTGRES_URL'] ?? '');
  url.pathname = `/${database}`;
  if (user !== undefined && password !== undefined) Object.assign(url, { username: user, password });
  return url.href;
};
async function using<T>(database: string, work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ connectionString: addressOf(database) });
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}

/** The tables as they stand, with what they point to; what PostgreSQL computes itself is left out. */
async function readTables(client: pg.Client): Promise<Table[]> {
  const { rows } = await client.query<Table>(
    `select c.relname as name,
      (select json_agg(json_build_object('name', a.attname, 'type', format_type(a.atttypid, null), 'label',
         (select e.enumlabel from pg_enum e where e.enumtypid = a.atttypid order by e.enumsortorder limit 1)) order by a.attnum)
       from pg_attribute a where a.attrelid = c.oid and a.attnum > 0 and not a.attisdropped and a.attgenerated = '') as columns,
      coalesce((select json_agg(json_build_object('to', f.confrelid::regclass::text,
         'own', (select json_agg(a.attname order by k.n) from unnest(f.conkey) with ordinality k(num, n)
                 join pg_attribute a on a.attrelid = f.conrelid and a.attnum = k.num),
         'theirs', (select json_agg(a.attname order by k.n) from unnest(f.confkey) with ordinality k(num, n)
                 join pg_attribute a on a.attrelid = f.confrelid and a.attnum = k.num)))
       from pg_constraint f where f.conrelid = c.oid and f.contype = 'f'), '[]') as links
     from pg_class c where c.relnamespace = 'public'::regnamespace and c.relkind = 'r' and c.relname <> '_prisma_migrations'`,
  );
  return rows;
}

const values: Record<string, unknown> = {
  text: 'kept as it was',
  integer: 7,
  bigint: 7,
  numeric: '12.34',
  'double precision': 0.1,
  boolean: true,
  date: '2026-02-03',
  'timestamp with time zone': '2026-02-03T04:05:06.789Z',
  jsonb: '{}',
};
function valueFor({ name, type, label }: Column, clinicId: string): unknown {
  if (label !== null) return label;
  // Nothing is pooled of fewer eyes than a constraint allows, and each eye has its subject.
  if (name === 'subjects') return `{${Array.from({ length: 20 }, () => randomUUID()).join()}}`;
  if (name === 'eyes') return 20;
  if (type === 'double precision[]') return '{0.1,2}';
  if (type.endsWith('[]')) return '{}';
  if (type === 'uuid') return name === 'clinic_id' ? clinicId : randomUUID();
  // Lists of days and the like are arrays in all of their history.
  if (type === 'jsonb' && name === 'holidays') return '["2026-12-24"]';
  const value = values[type];
  if (value === undefined) throw new Error(`There is no value for a column of type ${type} yet: ${name}.`);
  return value;
}

/** A row in every table, each pointing to those that it needs. */
async function fill(client: pg.Client): Promise<Map<string, Row>> {
  const open = new Map((await readTables(client)).map((table) => [table.name, table]));
  const rows = new Map<string, Row>();
  const clinicId = randomUUID();
  while (open.size > 0) {
    const ready = [...open.values()].find(({ name, links }) =>
      links.every(({ to }) => to === name || rows.has(to)),
    );
    if (ready === undefined) throw new Error(`Tables point in a circle: ${[...open.keys()].join(', ')}.`);
    const row: Row = Object.fromEntries(
      ready.columns.map((column) => [column.name, valueFor(column, clinicId)]),
    );
    if (ready.name === 'clinic') row['id'] = clinicId;
    for (const { to, own, theirs } of ready.links)
      own.forEach((name, index) => (row[name] = (rows.get(to) ?? row)[theirs[index]!]));
    const names = Object.keys(row);
    await client.query(
      `insert into "${ready.name}" (${names.map((name) => `"${name}"`).join(', ')})
       values (${names.map((_, index) => `$${index + 1}`).join(', ')})`,
      names.map((name) => row[name]),
    );
    rows.set(ready.name, row);
    open.delete(ready.name);
  }
  return rows;
}

/** What those columns hold, as PostgreSQL writes it. */
async function held(client: pg.Client, tables: readonly Table[]): Promise<Record<string, Row[]>> {
  const found: Record<string, Row[]> = {};
  for (const { name, columns } of tables) {
    const texts = columns.map((column) => `"${column.name}"::text`).join(', ');
    found[name] = (await client.query<Row>(`select ${texts} from "${name}"`)).rows;
  }
  return found;
}

describe('a database of every earlier version', async () => {
  const migrations = await readMigrations(migrationsFolder);
  afterAll(() =>
    using('postgres', async (client) => {
      for (const name of made) await client.query(`drop database if exists ${name} with (force)`);
    }),
  );

  it.each(migrations.slice(0, -1).map(({ name }, index) => ({ name, index })))(
    'comes from $name to the newest with its rows as they were',
    async ({ name, index }) => {
      const database = `lensferry_upgrade_${randomUUID().replaceAll('-', '')}`;
      made.push(database);
      await using('postgres', (client) => client.query(`create database ${database} owner lensferry`));
      const databaseUrl = addressOf(database, 'lensferry', OWNER_PASSWORD);
      expect(await runMigrations({ databaseUrl, upTo: name })).toHaveLength(index + 1);
      const before = await using(database, async (client) => {
        const rows = await fill(client);
        const tables = await readTables(client);
        expect(rows.size).toBe(tables.length);
        return { tables, rows: await held(client, tables) };
      });
      expect(await runMigrations({ databaseUrl })).toHaveLength(migrations.length - index - 1);
      await using(database, async (client) => {
        expect(await held(client, before.tables)).toEqual(before.rows);
      });
    },
  );
});
