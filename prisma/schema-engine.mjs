/**
 * Prisma's schema engine as WebAssembly. Its package leaves instantiation to a bundler; here it is done by hand.
 */
import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { PrismaPg } from '@prisma/adapter-pg';
import { bindMigrationAwareSqlAdapterFactory, ColumnTypeEnum } from '@prisma/driver-adapter-utils';
import * as bindings from '@prisma/schema-engine-wasm/schema_engine_bg';

/** PostgreSQL's internal one-byte type, which the catalogue uses for its flags. */
const CHAR_OID = 18;
const TEXT_OID = 25;

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
  await (ready ??= instantiate());
  const adapter = bindMigrationAwareSqlAdapterFactory(
    new CatalogueReadingPg({ connectionString: databaseUrl }),
  );
  const engine = await bindings.SchemaEngine.new(
    { datamodels: schemaFiles.map((file) => [file.path, file.content]) },
    () => {},
    adapter,
  );
  try {
    const { stdout } = await engine.diff({
      from: { tag: 'schemaDatasource', files: schemaFiles, configDir: '.' },
      to: { tag: 'schemaDatamodel', files: schemaFiles },
      script: true,
      exitCode: null,
      filters: { externalTables: [], externalEnums: [] },
    });
    return isEmptyScript(stdout) ? '' : `${stdout.trim()}\n`;
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
