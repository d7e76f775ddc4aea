import pg from 'pg';
import type { FreshDatabase } from './fresh-database.js';

export interface Superuser {
  // eslint-disable-next-line @typescript-eslint/no-explicit-any
  rows<T = Record<string, any>>(sql: string, values?: readonly unknown[]): Promise<T[]>;
  /** How many rows each table holds. */
  counts(): Promise<Record<string, number>>;
  close(): Promise<void>;
}

/** Looks into a database past every policy. */
export async function asSuperuser(database: FreshDatabase): Promise<Superuser> {
  const client = new pg.Client({ connectionString: database.superuserUrl });
  await client.connect();
  const rows: Superuser['rows'] = async (sql, values = []) => (await client.query(sql, [...values])).rows;
  const tables = await rows<{ name: string }>(
    `select tablename as name from pg_tables where schemaname = 'public' order by 1`,
  );
  const counting = `select ${tables.map(({ name }) => `(select count(*)::int from "${name}") as "${name}"`).join(', ')}`;
  return {
    rows,
    counts: async () => (await rows(counting))[0] as Record<string, number>,
    close: () => client.end(),
  };
}
