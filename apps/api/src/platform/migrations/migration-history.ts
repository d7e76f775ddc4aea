import { randomUUID } from 'node:crypto';
import type { ClientBase } from 'pg';
import { MigrationRefused } from './migration-errors.js';
import type { Migration } from './read-migrations.js';

/** The table of Prisma's own command line, so that `prisma migrate deploy` agrees with this runner. */
const CREATE_HISTORY = `
  CREATE TABLE IF NOT EXISTS "_prisma_migrations" (
    "id" VARCHAR(36) PRIMARY KEY NOT NULL,
    "checksum" VARCHAR(64) NOT NULL,
    "finished_at" TIMESTAMPTZ,
    "migration_name" VARCHAR(255) NOT NULL,
    "logs" TEXT,
    "rolled_back_at" TIMESTAMPTZ,
    "started_at" TIMESTAMPTZ NOT NULL DEFAULT now(),
    "applied_steps_count" INTEGER NOT NULL DEFAULT 0
  )`;

type AppliedMigration = { name: string; checksum: string; finished: boolean };

/** Makes the history table where it is missing. */
export async function prepareHistory(client: ClientBase): Promise<void> {
  await client.query(CREATE_HISTORY);
}

/** What this database has been through; nothing for a database that was never migrated. */
export async function readHistory(client: ClientBase): Promise<AppliedMigration[]> {
  const { rows: table } = await client.query<{ known: boolean }>(
    `SELECT to_regclass('"_prisma_migrations"') IS NOT NULL AS known`,
  );
  if (!table[0]?.known) return [];
  const { rows } = await client.query<AppliedMigration>(
    `SELECT migration_name AS name, checksum, finished_at IS NOT NULL AS finished
       FROM "_prisma_migrations" WHERE rolled_back_at IS NULL ORDER BY started_at, migration_name`,
  );
  return rows;
}

/** Adds one finished row, inside the transaction that applies the migration. */
export async function recordApplied(client: ClientBase, migration: Migration): Promise<void> {
  await client.query(
    `INSERT INTO "_prisma_migrations" (id, checksum, migration_name, started_at, finished_at, applied_steps_count)
     VALUES ($1, $2, $3, now(), clock_timestamp(), 1)`,
    [randomUUID(), migration.checksum, migration.name],
  );
}

/** The migrations still to be applied; refuses a history that this checkout cannot continue. */
export function findPending(migrations: Migration[], history: AppliedMigration[]): Migration[] {
  const known = new Map(migrations.map((migration) => [migration.name, migration]));
  for (const applied of history) refuseIfBroken(applied, known.get(applied.name));
  const done = new Set(history.map((applied) => applied.name));
  return migrations.filter((migration) => !done.has(migration.name));
}

function refuseIfBroken(applied: AppliedMigration, migration: Migration | undefined): void {
  if (!migration) {
    throw new MigrationRefused(
      'migration.unknown',
      `The database has migration ${applied.name}, which is missing here: start the version of Lensferry that has it, or restore an older backup.`,
    );
  }
  if (!applied.finished) {
    throw new MigrationRefused(
      'migration.unfinished',
      `Migration ${applied.name} was begun by another tool and not finished: resolve it with \`prisma migrate resolve\` before starting.`,
    );
  }
  if (applied.checksum !== migration.checksum) {
    throw new MigrationRefused(
      'migration.changed',
      `Migration ${applied.name} was changed after it had been applied: put its migration.sql back as it was and write the change as a new migration.`,
    );
  }
}
