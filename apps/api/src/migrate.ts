/** `node apps/api/dist/migrate.js` brings the database of DATABASE_URL to the newest migration. */
import { MigrationRefused } from './platform/migrations/migration-errors.js';
import { runMigrations } from './platform/migrations/run-migrations.js';

async function main(): Promise<void> {
  const databaseUrl = process.env['DATABASE_URL'];
  if (!databaseUrl)
    throw new MigrationRefused(
      'migration.database-unreachable',
      'DATABASE_URL is not set: give the address of a PostgreSQL database.',
    );
  const applied = await runMigrations({ databaseUrl, log: (line) => console.log(line) });
  if (applied.length === 0) console.log('The database is up to date');
}

main().catch((error: unknown) => {
  console.error(error instanceof MigrationRefused ? error.message : error);
  process.exitCode = 1;
});
