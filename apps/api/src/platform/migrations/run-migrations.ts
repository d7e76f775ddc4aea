import pg from 'pg';
import { MigrationRefused } from './migration-errors.js';
import { findPending, prepareHistory, readHistory, recordApplied } from './migration-history.js';
import { type Migration, migrationsFolder, readMigrations } from './read-migrations.js';

/** The lock that Prisma's command line takes too, so that neither runs beside the other. */
const MIGRATION_LOCK = 72707369;

type MigrateInput = {
  databaseUrl: string;
  folder?: string;
  log?: (line: string) => void;
  /** The last migration to apply; the newest when left out. */
  upTo?: string;
};

/**
 * Brings the database to the newest migration. Each migration is one transaction: it is there wholly or not at
 * all. Several processes may call this at once; one works and the others wait and find nothing left to do.
 *
 * @returns the names of the migrations that this call applied
 */
export async function runMigrations({
  databaseUrl,
  folder = migrationsFolder,
  log = () => {},
  upTo,
}: MigrateInput): Promise<string[]> {
  const migrations = await readMigrations(folder);
  return withClient(databaseUrl, async (client) => {
    await takeLock(client, log);
    await prepareHistory(client);
    const pending = findPending(migrations, await readHistory(client)).filter(
      ({ name }) => upTo === undefined || name <= upTo,
    );
    for (const migration of pending) {
      await applyMigration(client, migration);
      log(`Applied migration ${migration.name}`);
    }
    return pending.map((migration) => migration.name);
  });
}

/** The names of the migrations that the database lacks; refuses as {@link runMigrations} does. */
export async function listPendingMigrations({
  databaseUrl,
  folder = migrationsFolder,
}: MigrateInput): Promise<string[]> {
  const migrations = await readMigrations(folder);
  return withClient(databaseUrl, async (client) =>
    findPending(migrations, await readHistory(client)).map(({ name }) => name),
  );
}

async function withClient<T>(databaseUrl: string, work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ connectionString: databaseUrl, application_name: 'lensferry-migrate' });
  client.on('error', () => {});
  try {
    await client.connect();
  } catch (error) {
    throw new MigrationRefused(
      'migration.database-unreachable',
      `The database of DATABASE_URL cannot be reached (${reasonOf(error)}): check that it runs and that the address and password are right.`,
      { cause: error },
    );
  }
  try {
    return await work(client);
  } finally {
    await client.end().catch(() => {});
  }
}

/** The lock belongs to the connection: a killed process gives it back. */
async function takeLock(client: pg.Client, log: (line: string) => void): Promise<void> {
  const { rows } = await client.query<{ taken: boolean }>('SELECT pg_try_advisory_lock($1) AS taken', [
    MIGRATION_LOCK,
  ]);
  if (rows[0]?.taken) return;
  log('Another process is migrating this database: waiting for it');
  await client.query('SELECT pg_advisory_lock($1)', [MIGRATION_LOCK]);
}

async function applyMigration(client: pg.Client, migration: Migration): Promise<void> {
  await client.query('BEGIN');
  try {
    await client.query(migration.sql);
    await recordApplied(client, migration);
    await client.query('COMMIT');
  } catch (error) {
    await client.query('ROLLBACK').catch(() => {});
    throw new MigrationRefused(
      'migration.failed',
      `Migration ${migration.name} failed and was undone: ${reasonOf(error)}.`,
      { cause: error },
    );
  }
}

/** A refused connection to a name with two addresses arrives as an AggregateError without a message. */
function reasonOf(error: unknown): string {
  if (error instanceof AggregateError) return error.errors.map(reasonOf).join(', ');
  return error instanceof Error ? error.message : String(error);
}
