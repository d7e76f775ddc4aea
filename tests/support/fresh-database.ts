import { randomUUID } from 'node:crypto';
import pg from 'pg';
import { afterAll, beforeAll } from 'vitest';

/** The login that owns Lensferry's tables on the test server; the server listens on loopback and lives for the run. */
export const OWNER_PASSWORD = 'for-tests-only';

export type FreshDatabase = {
  /** For the owner `lensferry`, who is no superuser: what DATABASE_URL is in real use. */
  databaseUrl: string;
  /** For a superuser, who sees past every policy: to look at what was written, and to break things. */
  superuserUrl: string;
  name: string;
  drop(): Promise<void>;
};

/** A migrated, empty database of one's own, cloned from the template in some 60 ms. */
export async function freshDatabase(): Promise<FreshDatabase> {
  const template = process.env['LENSFERRY_TEST_TEMPLATE'];
  if (!template)
    throw new Error('This suite has no database: give it `database: true` in .config/vitest.config.ts.');
  const name = `lensferry_test_${randomUUID().replaceAll('-', '')}`;
  await asSuperuser((client) => client.query(`CREATE DATABASE ${name} TEMPLATE ${template} OWNER lensferry`));
  return {
    name,
    databaseUrl: urlFor(name, 'lensferry', OWNER_PASSWORD),
    superuserUrl: urlFor(name),
    drop: () =>
      asSuperuser((client) => client.query(`DROP DATABASE IF EXISTS ${name} WITH (FORCE)`)).then(
        () => undefined,
      ),
  };
}

/**
 * A fresh database for all tests of a file, dropped after them. Call it at the top of a file or a `describe`;
 * what it returns is filled before the first test.
 */
export function useFreshDatabase(): FreshDatabase {
  const database = {} as FreshDatabase;
  beforeAll(async () => void Object.assign(database, await freshDatabase()));
  afterAll(() => database.drop?.());
  return database;
}

async function asSuperuser<T>(work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ connectionString: urlFor('postgres') });
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}

function urlFor(database: string, user?: string, password?: string): string {
  const url = new URL(process.env['TEST_POSTGRES_URL'] ?? '');
  url.pathname = `/${database}`;
  if (user !== undefined) url.username = user;
  if (password !== undefined) url.password = password;
  return url.href;
}
