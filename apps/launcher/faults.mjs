/**
 * `npm run faults`: the heavy proofs, with their figures printed: every route with foreign identifiers (10,000
 * requests), generated bad bodies (50,000), many hands on the same cases (60 runs), and thousands of orders through a hundred kills on BullMQ over PostgreSQL
 * and over Redis. ORDERS, KILLS, FUZZ, RUNS and SEED change their size. `npm run faults -- kills` runs one of them.
 */
import { requireRecentNode } from './src/node-version.mjs';

requireRecentNode();
const { prepare } = await import('./prepare.mjs');
const { runVitest } = await import('./src/test-run.mjs');
const { runMain, StopSentence } = await import('./src/stop-sentence.mjs');

const PROOFS = {
  isolation: { suite: 'tenancy', file: 'tests/tenancy/' },
  input: { suite: 'api', file: 'tests/api/bad-input.spec.ts' },
  lifecycle: { suite: 'faults-short', file: 'tests/faults/lifecycle.short.spec.ts' },
  outage: { suite: 'faults-short', file: 'tests/faults/outage.short.spec.ts' },
  kills: { suite: 'faults', file: 'tests/faults/kill.spec.ts' },
};

await runMain(async () => {
  const wanted = process.argv.slice(2);
  const unknown = wanted.filter((name) => !(name in PROOFS));
  if (unknown.length > 0)
    throw new StopSentence(`Say which proof to run: npm run faults -- ${Object.keys(PROOFS).join(' | ')}`);
  await prepare({ log: (line) => console.log(line) });
  const env = { ...process.env, NODE_ENV: 'test', FULL: '1' };
  for (const name of wanted.length > 0 ? wanted : Object.keys(PROOFS)) {
    const { suite, file } = PROOFS[name];
    const { ok, passed } = await runVitest([suite], { env, args: [file] });
    if (!ok || passed === 0) process.exitCode = 1;
  }
});
