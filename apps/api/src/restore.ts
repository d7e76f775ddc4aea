/** `npm run restore -- FILE [--replace]`: puts a backup into the database, all of it or nothing. */
import { parseArgs } from 'node:util';
import { restoreBackup } from './backup/restore-backup.js';

async function main(): Promise<void> {
  const { values, positionals } = parseArgs({
    options: { replace: { type: 'boolean', default: false } },
    allowPositionals: true,
  });
  const [file] = positionals;
  const databaseUrl = process.env['DATABASE_URL'];
  if (file === undefined || positionals.length > 1)
    throw new Error('Say which file: npm run restore -- FILE [--replace]');
  if (!databaseUrl) throw new Error('Set DATABASE_URL to the database that is to be filled.');
  const { tables, rows, madeAt, migrated } = await restoreBackup(databaseUrl, file, values);
  const then = migrated.length === 0 ? '' : `, then ${migrated.length} newer migrations were applied`;
  console.log(`${rows} rows of ${tables} tables as of ${madeAt} are back${then}. Everybody signs in anew.`);
}

main().catch((error: Error) => {
  console.error(error.message);
  process.exitCode = 1;
});
