import { prepare } from '../prepare.mjs';
import { runChecks } from './checks.mjs';
import { runMain } from './stop-sentence.mjs';
import { runVitest } from './test-run.mjs';

const log = (line) => console.log(line);

/** Further arguments go to vitest, e.g. a part of a file's name. */
export function runCheck(args) {
  return runMain(async () => {
    await prepare({ need: ['install', 'packages', 'prisma'], log });
    const checks = await runChecks(log);
    const tests = await runVitest(['unit', 'published'], { args });
    if (checks.failed > 0 || !tests.ok) process.exitCode = 1;
  });
}
