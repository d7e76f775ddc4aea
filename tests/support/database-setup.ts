import { createHash } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { startEmbeddedPostgres } from '../../apps/launcher/src/embedded-postgres.mjs';
import { ensureOwnedDatabase } from '../../apps/launcher/src/owned-database.mjs';
import { readMigrations, migrationsFolder } from '../../apps/api/src/platform/migrations/read-migrations.js';
import { runMigrations } from '../../apps/api/src/platform/migrations/run-migrations.js';
import { OWNER_PASSWORD } from './fresh-database.js';

/**
 * Gives every suite one PostgreSQL server: the one of TEST_POSTGRES_URL, or an embedded one that lives as long as
 * the run. On it a migrated template waits to be cloned. Suites of one run share both.
 */
export default async function setup(): Promise<(() => Promise<void>) | undefined> {
  if (process.env['LENSFERRY_TEST_TEMPLATE']) return undefined;
  const server = process.env['TEST_POSTGRES_URL']
    ? serverOf(process.env['TEST_POSTGRES_URL'])
    : await ownServer();
  process.env['TEST_POSTGRES_URL'] = server.superuserUrl();
  process.env['LENSFERRY_TEST_TEMPLATE'] = await makeTemplate(server);
  return async () => {
    delete process.env['LENSFERRY_TEST_TEMPLATE'];
    await server.stop();
  };
}

type Server = {
  superuserUrl(database?: string): string;
  address(user: string, password: string, database: string): string;
  stop(): Promise<void>;
};

async function ownServer(): Promise<Server> {
  const folder = await mkdtemp(join(tmpdir(), 'lensferry-test-'));
  const server = await startEmbeddedPostgres({ folder, password: 'for-tests-only', throwaway: true });
  const stop = async () => {
    await server.stop();
    delete process.env['TEST_POSTGRES_URL'];
    await rm(folder, { recursive: true, force: true });
  };
  return { ...server, stop };
}

function serverOf(url: string): Server {
  const address = (user: string, password: string, database: string) => {
    const other = new URL(url);
    Object.assign(other, { username: user, password, pathname: `/${database}` });
    return other.href;
  };
  const { username, password } = new URL(url);
  return {
    address,
    superuserUrl: (database = 'postgres') => address(username, decodeURIComponent(password), database),
    stop: async () => {},
  };
}

/** Named after the migrations in it, so that a server that is used again never serves an old one. */
async function makeTemplate(server: Server): Promise<string> {
  const migrations = await readMigrations(migrationsFolder);
  const state = createHash('sha256')
    .update(migrations.map((migration) => migration.checksum).join())
    .digest('hex');
  const name = `lensferry_template_${state.slice(0, 12)}`;
  const databaseUrl = await ensureOwnedDatabase(server, { database: name, password: OWNER_PASSWORD });
  await runMigrations({ databaseUrl });
  return name;
}
