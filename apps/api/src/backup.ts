/** `npm run backup -- FILE`: every row as of one moment, in one compressed file with checksums. */
import { existsSync } from 'node:fs';
import { makeBackup } from './backup/make-backup.js';

async function main(): Promise<void> {
  const file = process.argv[2];
  const databaseUrl = process.env['DATABASE_URL'];
  if (file === undefined || process.argv.length > 3)
    throw new Error('Say which file: npm run backup -- FILE');
  if (!databaseUrl) throw new Error('Set DATABASE_URL to the database that is to be backed up.');
  if (existsSync(file))
    throw new Error(`${file} is there already: choose another name, no backup is written over.`);
  const { tables, rows } = await makeBackup(databaseUrl, file);
  console.log(
    `${rows} rows of ${tables} tables are in ${file}; the key is not: keep IDENTITY_KEY apart from it.`,
  );
}

main().catch((error: Error) => {
  console.error(error.message);
  // A connection of the two may still be open when the other was refused.
  process.exit(1);
});
