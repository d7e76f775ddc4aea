import { createHash } from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { MigrationRefused } from './migration-errors.js';

/** One step of the database's history, as it lies in `prisma/migrations/<name>/migration.sql`. */
export type Migration = { name: string; sql: string; checksum: string };

/** The repository's own migrations; the path is the same seen from `src` and from `dist`. */
export const migrationsFolder = fileURLToPath(new URL('../../../../../prisma/migrations', import.meta.url));

/** Reads every migration in the order of its name. */
export async function readMigrations(folder: string): Promise<Migration[]> {
  const entries = await readdir(folder, { withFileTypes: true }).catch(() => []);
  const names = entries.filter((entry) => entry.isDirectory()).map((entry) => entry.name);
  if (names.length === 0) {
    throw new MigrationRefused(
      'migration.folder-empty',
      `There are no migrations in ${folder}: check out the whole project.`,
    );
  }
  return Promise.all(names.sort().map((name) => readMigration(folder, name)));
}

async function readMigration(folder: string, name: string): Promise<Migration> {
  const sql = await readFile(join(folder, name, 'migration.sql'), 'utf8');
  return { name, sql, checksum: checksumOf(sql) };
}

/** SHA-256 in hexadecimal, as Prisma writes it; a checkout that turned line ends does not count as a change. */
export function checksumOf(sql: string): string {
  return createHash('sha256').update(sql.replaceAll('\r\n', '\n')).digest('hex');
}
