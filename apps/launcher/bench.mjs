/**
 * `npm run bench -- NAME …`: prepares what the bench needs and runs tests/bench/NAME.bench.mjs, which
 * exports `run(say)` (true when every promise was kept) and optionally `need` (prepare steps).
 * Exit code 0: all kept, 1: some were not or something failed.
 */
import { readdirSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { prepare } from './prepare.mjs';
import { requireRecentNode } from './src/node-version.mjs';
import { inRepository } from './src/repository.mjs';
import { runMain, StopSentence } from './src/stop-sentence.mjs';

const ENDING = '.bench.mjs';

await runMain(async () => {
  requireRecentNode();
  const there = readdirSync(inRepository('tests/bench'))
    .filter((file) => file.endsWith(ENDING))
    .map((file) => file.slice(0, -ENDING.length));
  const wanted = process.argv.slice(2);
  const unknown = wanted.filter((name) => !there.includes(name));
  if (wanted.length === 0 || unknown.length > 0) {
    throw new StopSentence(`Say which bench to run: npm run bench -- ${there.join(' | ')}`);
  }
  const log = (line) => process.stderr.write(`${line}\n`);
  // A bench imports from node_modules, so it can only be loaded once that is there.
  await prepare({ need: ['install', 'packages'], log });
  for (const name of wanted) {
    const bench = await import(pathToFileURL(inRepository('tests/bench', `${name}${ENDING}`)).href);
    if (bench.need) await prepare({ need: bench.need, log });
    const kept = await bench.run((line) => console.log(line));
    if (!kept) process.exitCode = 1;
  }
});
