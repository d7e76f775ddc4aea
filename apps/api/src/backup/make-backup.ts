import pg from 'pg';
import { connectionAs } from '../platform/database.js';
import { tableSum, writeBackup, type Head } from './backup-file.js';
import { quoted, readTables, type Client, type Table } from './tables.js';

const page = 1000;

export interface BackupReport {
  readonly tables: number;
  readonly rows: number;
}

/**
 * Writes every row of every table to a file, as of one moment, while the product runs. It reads with the application's
 * rights and with every clinic in sight. Sessions are left out, and so is the key: identities stay sealed in it.
 */
export async function makeBackup(databaseUrl: string, file: string): Promise<BackupReport> {
  // The history of migrations is the owner's to read; it takes part in the same picture of the data.
  const owner = new pg.Client({ connectionString: databaseUrl });
  const client = new pg.Client({ connectionString: connectionAs('lensferry_app', databaseUrl) });
  const report = { tables: 0, rows: 0 };
  await Promise.all([owner.connect(), client.connect()]);
  try {
    await owner.query(`set timezone = 'UTC'; begin isolation level repeatable read read only`);
    const snapshot = await owner.query<{ id: string }>('select pg_export_snapshot() as id');
    await client.query(`set timezone = 'UTC'; begin isolation level repeatable read read only`);
    await client.query(`set transaction snapshot '${snapshot.rows[0]!.id}'`);
    await client.query(
      `select set_config('app.clinic_ids', (select coalesce(array_agg(id), '{}')::text from clinic), true)`,
    );
    await writeBackup(file, linesOf(owner, client, report));
    return report;
  } finally {
    await client.end();
    await owner.end();
  }
}

async function* linesOf(
  owner: Client,
  client: Client,
  report: { tables: number; rows: number },
): AsyncGenerator<string> {
  const { rows: migrations } = await owner.query<{ name: string; checksum: string }>(
    `select migration_name as name, checksum from _prisma_migrations where finished_at is not null order by migration_name`,
  );
  const head: Head = { format: 'lensferry-backup-1', madeAt: new Date().toISOString(), migrations };
  yield JSON.stringify(head);
  for (const table of await readTables(client)) {
    yield JSON.stringify({ table });
    const sum = tableSum();
    for await (const row of rowsOf(client, table)) {
      sum.add(row);
      yield row;
    }
    const ended = sum.end();
    report.tables += 1;
    report.rows += ended.rows;
    yield JSON.stringify(ended);
  }
  yield JSON.stringify({ end: true, tables: report.tables });
}

/** A table's rows, each a JSON array of what PostgreSQL itself writes for its values: nothing is rounded or lost. */
async function* rowsOf(client: Client, { name, columns, key }: Table): AsyncGenerator<string> {
  const texts = columns.map((column) => `${quoted(column.name)}::text`).join(', ');
  await client.query(
    `declare rows no scroll cursor for select array_to_json(array[${texts}])::text as row
     from ${quoted(name)} order by ${key.map(quoted).join(', ')}`,
  );
  for (;;) {
    const { rows } = await client.query<{ row: string }>(`fetch ${page} from rows`);
    for (const { row } of rows) yield row;
    if (rows.length < page) break;
  }
  await client.query('close rows');
}
