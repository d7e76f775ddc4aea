/**
 * `npm run make-migration -- add-lens-units` writes prisma/migrations/<time>_add_lens_units/migration.sql with
 * the SQL that brings the tables of all earlier migrations to prisma/schema. Policies, roles, functions and
 * triggers are invisible to it: write those by hand in a migration of their own.
 * `-- --check` writes nothing and fails when the schema and the migrations disagree.
 */
import { mkdtemp, mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import pg from 'pg';
import { startEmbeddedPostgres } from '../apps/launcher/src/embedded-postgres.mjs';
import { ensureOwnedDatabase } from '../apps/launcher/src/owned-database.mjs';
import { runMain, StopSentence } from '../apps/launcher/src/stop-sentence.mjs';
import { diffDatabaseToSchema } from './schema-engine.mjs';

const prismaFolder = fileURLToPath(new URL('.', import.meta.url));
const migrationsFolder = join(prismaFolder, 'migrations');
const schemaFolder = join(prismaFolder, 'schema');

/** What the schema asks for and the migrations do not give, as SQL. */
export async function missingSql() {
  const schemaFiles = await readSchemaFiles();
  const folder = await mkdtemp(join(tmpdir(), 'lensferry-diff-'));
  const server = await startEmbeddedPostgres({ folder, password: 'throwaway', throwaway: true });
  try {
    const databaseUrl = await ensureOwnedDatabase(server, { database: 'lensferry', password: 'throwaway' });
    await applyEveryMigration(databaseUrl);
    return await diffDatabaseToSchema({ databaseUrl, schemaFiles });
  } finally {
    await server.stop();
    await rm(folder, { recursive: true, force: true });
  }
}

async function applyEveryMigration(databaseUrl) {
  const client = new pg.Client({ connectionString: databaseUrl });
  await client.connect();
  try {
    for (const name of await migrationNames()) {
      const sql = await readFile(join(migrationsFolder, name, 'migration.sql'), 'utf8');
      await client.query(`BEGIN;\n${sql}\n;COMMIT`).catch((error) => {
        throw new StopSentence(
          `Migration ${name} fails: ${error.message}${error.position ? ` (near character ${error.position})` : ''}.`,
        );
      });
    }
  } finally {
    await client.end();
  }
}

async function readSchemaFiles() {
  const names = (await readdir(schemaFolder)).filter((name) => name.endsWith('.prisma')).sort();
  return Promise.all(
    names.map(async (name) => ({
      path: join(schemaFolder, name),
      content: await readFile(join(schemaFolder, name), 'utf8'),
    })),
  );
}

async function migrationNames() {
  const entries = await readdir(migrationsFolder, { withFileTypes: true });
  return entries
    .filter((entry) => entry.isDirectory())
    .map((entry) => entry.name)
    .sort();
}

function migrationName(words) {
  const name = words
    .join('_')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '_')
    .replace(/^_+|_+$/g, '');
  if (!name) throw new StopSentence('Say what the migration does: npm run make-migration -- add-lens-units');
  const time = new Date().toISOString().replace(/\D/g, '').slice(0, 14);
  return `${time}_${name}`;
}

async function main() {
  const words = process.argv.slice(2);
  const checking = words[0] === '--check';
  const name = checking ? null : migrationName(words);
  const sql = await missingSql();
  if (checking && sql)
    throw new StopSentence(
      `prisma/schema is ahead of prisma/migrations: run npm run make-migration. It lacks\n${sql}`,
    );
  if (!sql) return console.log('The migrations already give what the schema asks for.');
  const folder = join(migrationsFolder, name);
  await mkdir(folder, { recursive: true });
  await writeFile(join(folder, 'migration.sql'), sql);
  console.log(`Wrote prisma/migrations/${name}/migration.sql: read it before you commit it.`);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await runMain(main);
