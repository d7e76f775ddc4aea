import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { prepare } from '../prepare.mjs';
import { requireChromium } from './chromium.mjs';
import { startEmbeddedPostgres } from './embedded-postgres.mjs';
import { findOrInstallRedis } from './redis.mjs';
import { runChecks } from './checks.mjs';
import { runMain } from './stop-sentence.mjs';
import { listenForStop } from './stop-request.mjs';
import { runVitest } from './test-run.mjs';

/** In the order in which a failure is cheapest to see. */
const RUNS = [['unit', 'published'], ['api', 'tenancy'], ['launcher', 'faults-short'], ['browser']];

const log = (line) => console.log(line);

/** Ends with one plain line that sums all runs: `N passed, N failed`. */
export function runTests() {
  return runMain(async () => {
    const stop = listenForStop();
    await prepare({ log });
    const chromium = await requireChromium(log);
    const redis = await findOrInstallRedis(log);
    if (!redis) log('There is no redis-server on PATH: the tests of BullMQ on Redis are skipped.');
    const checks = await runChecks(log);
    const results = await onDatabase(({ superuserUrl }) => {
      const env = {
        ...process.env,
        NODE_ENV: 'test',
        CHROMIUM_PATH: chromium,
        TEST_POSTGRES_URL: superuserUrl(),
      };
      return runAll(env, stop);
    });
    report(checks, results);
  });
}

async function runAll(env, stop) {
  const results = [];
  for (const suites of RUNS) {
    if (stop.isRequested()) break;
    results.push(await runVitest(suites, { env }));
  }
  return results;
}

async function onDatabase(work) {
  const folder = mkdtempSync(join(tmpdir(), 'lensferry-test-'));
  const server = await startEmbeddedPostgres({ folder, password: 'for-tests-only', throwaway: true });
  try {
    return await work(server);
  } finally {
    await server.stop();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** A failed check counts as failed, so that the closing line never calls a failed run good. */
function report(checks, results) {
  const sum = (field) => results.reduce((total, result) => total + result[field], 0);
  const failed = checks.failed + sum('failed');
  const passed = checks.passed + sum('passed');
  if (sum('skipped') > 0) log(`${sum('skipped')} skipped (named above)`);
  log(`${passed} passed, ${failed} failed`);
  if (failed > 0 || results.length < RUNS.length) process.exitCode = 1;
}
