import { readFileSync, writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import pg from 'pg';
import { connectionAs } from './platform/database.js';
import { verifyChains, type ChainHead } from './platform/verify-chain.js';

/**
 * `npm run verify-audit [-- --export FILE] [--against FILE]`: computes every clinic's record anew. `--export` writes
 * the heads, to be kept where nobody of the house can write; `--against` takes such a file. Exit code 0: whole,
 * 1: something was changed, removed or inserted, 2: it could not be read.
 */
async function verify(): Promise<number> {
  const { values } = parseArgs({ options: { export: { type: 'string' }, against: { type: 'string' } } });
  const databaseUrl = process.env['DATABASE_URL'];
  if (databaseUrl === undefined)
    throw new Error('Set DATABASE_URL to the database whose record is to be verified.');
  const kept =
    values.against === undefined ? [] : (JSON.parse(readFileSync(values.against, 'utf8')) as ChainHead[]);
  const client = new pg.Client({ connectionString: connectionAs('lensferry_app', databaseUrl) });
  await client.connect();
  try {
    // One picture of the whole record, so that what is added meanwhile is no fault.
    await client.query('begin isolation level repeatable read read only');
    await client.query(
      `select set_config('app.clinic_ids', (select coalesce(array_agg(id), '{}')::text from clinic), true)`,
    );
    const reports = await verifyChains(client, kept);
    for (const { clinic, seq, hash, faults } of reports) {
      console.log(`${clinic}: ${seq} entries, head ${hash}, ${faults.length === 0 ? 'whole' : 'NOT WHOLE'}`);
      for (const { sentence } of faults) console.log(`  ${sentence}`);
    }
    if (values.export !== undefined) {
      const heads: ChainHead[] = reports.map(({ clinicId, clinic, seq, hash }) => ({
        clinicId,
        clinic,
        seq,
        hash,
      }));
      writeFileSync(values.export, `${JSON.stringify(heads, null, 2)}\n`);
    }
    return reports.some(({ faults }) => faults.length > 0) ? 1 : 0;
  } finally {
    await client.end();
  }
}

process.exitCode = await verify().catch((error: Error) => {
  console.error(error.message);
  return 2;
});
