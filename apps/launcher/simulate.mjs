/**
 * `npm run simulate -- --seed N [--weeks N]`: a year of three clinics and four makers by a virtual clock, on a
 * throwaway PostgreSQL of its own, and what must hold at its end, line by line. Exit code 0: all of it held.
 */
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { prepare } from './prepare.mjs';
import { requireRecentNode } from './src/node-version.mjs';
import { inRepository } from './src/repository.mjs';
import { runMain } from './src/stop-sentence.mjs';

await runMain(async () => {
  requireRecentNode();
  const log = (line) => process.stderr.write(`${line}\n`);
  await prepare({ need: ['install', 'packages', 'prisma', 'api'], log });
  // These import from node_modules, which is there only now.
  const { startEmbeddedPostgres } = await import('./src/embedded-postgres.mjs');
  const { ensureOwnedDatabase } = await import('./src/owned-database.mjs');
  const folder = mkdtempSync(join(tmpdir(), 'lensferry-simulate-'));
  const server = await startEmbeddedPostgres({ folder, password: 'throwaway', throwaway: true });
  try {
    const databaseUrl = await ensureOwnedDatabase(server, { database: 'lensferry', password: 'throwaway' });
    const env = { ...process.env, DATABASE_URL: databaseUrl };
    await runNode('apps/api/dist/migrate.js', [], env);
    process.exitCode = await runNode('apps/api/dist/simulate/main.js', process.argv.slice(2), env);
  } finally {
    await server.stop();
    rmSync(folder, { recursive: true, force: true });
  }
});

function runNode(script, args, env) {
  const stdio = ['ignore', script.endsWith('migrate.js') ? 'ignore' : 'inherit', 'inherit'];
  const child = spawn(process.execPath, [inRepository(script), ...args], { env, stdio });
  return new Promise((done, failed) => {
    child.once('error', failed);
    child.once('close', (code) => done(code ?? 1));
  });
}
