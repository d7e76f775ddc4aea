import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { withProgress } from './progress.mjs';
import { inRepository } from './repository.mjs';
import { runProgram } from './run-program.mjs';
import { saysDiskFull, StopSentence } from './stop-sentence.mjs';

/**
 * Loads the demo network once for this database. The mark is set only after the loader succeeded: one that was
 * killed is called again and goes on where it was.
 */
export async function loadDemoOnce({ data, env, embedded, log }) {
  const mark = data.path('demo-loaded.json');
  const database = embedded ? 'embedded' : fingerprint(env.DATABASE_URL);
  const loaded = existsSync(mark) ? JSON.parse(readFileSync(mark, 'utf8')) : {};
  if (loaded[database]) return;
  const script = inRepository('apps', 'api', 'dist', 'demo', 'load.js');
  await withProgress(log, 'Loading the demo network', async () => {
    const { code, output } = await runProgram(process.execPath, ['--enable-source-maps', script], { env });
    if (code !== 0) throw loadFailed(output);
  });
  writeFileSync(mark, `${JSON.stringify({ ...loaded, [database]: new Date().toISOString() })}\n`);
}

function loadFailed(output) {
  if (saysDiskFull(output))
    return new StopSentence(
      'The disk is full, so the demo network could not be loaded: free some space and start again.',
    );
  process.stderr.write(`${output.trim().split('\n').slice(-20).join('\n')}\n`);
  return new StopSentence(
    'The demo network could not be loaded (last lines above): start again, or begin anew with npm start -- --fresh.',
  );
}

/** Tells databases apart without keeping their password. */
function fingerprint(databaseUrl) {
  const { host, pathname } = new URL(databaseUrl);
  return createHash('sha256').update(`${host}${pathname}`).digest('hex').slice(0, 16);
}
