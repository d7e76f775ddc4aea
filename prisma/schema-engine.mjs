/**
 * Prisma's schema engine as WebAssembly. Its package leaves instantiation to a bundler; here it is done by hand.
 */
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { PrismaPg } from '@prisma/adapter-pg';
import { bindMigrationAwareSqlAdapterFactory, ColumnTypeEnum } from '@prisma/driver-adapter-utils';
import * as bindings from '@prisma/schema-engine-wasm/schema_engine_bg';

/** PostgreSQL's internal one-byte type, which the catalogue uses for its flags. */
const CHAR_OID = 18;
const TEXT_OID = 25;

const NOTHING_LEFT_OUT = { externalTables: [], externalEnums: [] };

let ready;

async function instantiate() {
  const wasmFile = fileURLToPath(import.meta.resolve('@prisma/schema-engine-wasm/schema_engine_bg')).replace(
    /\.js$/,
    '.wasm',
  );
  const { instance } = await WebAssembly.instantiate(await readFile(wasmFile), {
    './schema_engine_bg.js': bindings,
  });
  bindings.__wbg_set_wasm(instance.exports);
  instance.exports.__wbindgen_start();
}

/**
 * The SQL that turns the tables of the database into those of the schema files; an empty text when they agree.
 *
 * @param {{ databaseUrl: string, schemaFiles: { path: string, content: string }[] }} input
 */
export async function diffDatabaseToSchema({ databaseUrl, schemaFiles }) {
  const { stdout } = await withEngine(databaseUrl, schemaFiles, (engine) =>
    engine.diff({
      from: { tag: 'schemaDatasource', files: schemaFiles, configDir: '.' },
      to: { tag: 'schemaDatamodel', files: schemaFiles },
      script: true,
      exitCode: null,
      filters: NOTHING_LEFT_OUT,
    }),
  );
  return isEmptyScript(stdout) ? '' : `${stdout.trim()}\n`;
}

/**
 * What Prisma's own engine thinks of a database's migration history: `history` is null when it is up to date.
 *
 * @param {{ databaseUrl: string, migrationsFolder: string }} input
 */
export async function diagnoseHistory({ databaseUrl, migrationsFolder }) {
  const names = (await readdir(migrationsFolder, { withFileTypes: true }))
    .filter((entry) => entry.isDirectory())
    .map((entry) => entry.name);
  const readMigration = async (name) => ({
    path: name,
    migrationFile: {
      path: 'migration.sql',
      content: { tag: 'ok', value: await readFile(join(migrationsFolder, name, 'migration.sql'), 'utf8') },
    },
  });
  const lockfile = {
    path: 'migration_lock.toml',
    content: await readFile(join(migrationsFolder, 'migration_lock.toml'), 'utf8'),
  };
  const migrationsList = {
    baseDir: migrationsFolder,
    lockfile,
    shadowDbInitScript: '',
    migrationDirectories: await Promise.all(names.sort().map(readMigration)),
  };
  return withEngine(databaseUrl, undefined, (engine) =>
    engine.diagnoseMigrationHistory({
      migrationsList,
      optInToShadowDatabase: false,
      filters: NOTHING_LEFT_OUT,
    }),
  );
}

async function withEngine(databaseUrl, schemaFiles, work) {
  await (ready ??= instantiate());
  const adapter = bindMigrationAwareSqlAdapterFactory(
    new CatalogueReadingPg({ connectionString: databaseUrl }),
  );
  const datamodels = (
    schemaFiles ?? [{ path: 'schema.prisma', content: 'datasource db {\n provider = "postgresql"\n}' }]
  ).map((file) => [file.path, file.content]);
  const engine = await bindings.SchemaEngine.new({ datamodels }, () => {}, adapter);
  try {
    return await work(engine);
  } finally {
    engine.free();
  }
}

function isEmptyScript(script) {
  return !script || script.split('\n').every((line) => line.trim() === '' || line.trim().startsWith('--'));
}

/** The adapter knows every type that tables use, but not the one-byte type in which the catalogue keeps its flags. */
class CatalogueReadingPg extends PrismaPg {
  async connect() {
    const connection = await super.connect();
    const pool = connection.underlyingDriver();
    const query = pool.query.bind(pool);
    const queryRaw = connection.queryRaw.bind(connection);
    const flagColumns = new WeakMap();
    pool.query = async (...args) => {
      const result = await query(...args);
      flagColumns.set(
        result.rows,
        result.fields.map((field) => field.dataTypeID === CHAR_OID),
      );
      for (const field of result.fields) if (field.dataTypeID === CHAR_OID) field.dataTypeID = TEXT_OID;
      return result;
    };
    connection.queryRaw = async (request) => {
      const result = await queryRaw(request);
      const flags = flagColumns.get(result.rows) ?? [];
      return {
        ...result,
        columnTypes: result.columnTypes.map((type, i) => (flags[i] ? ColumnTypeEnum.Character : type)),
      };
    };
    return connection;
  }
}
