import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { readFileSync } from 'node:fs';
import { hashInputs } from './input-hash.mjs';
import { inRepository } from './repository.mjs';
import { runProgram } from './run-program.mjs';

const program = (name, bin = name) => {
  const manifest = createRequire(inRepository('package.json')).resolve(`${name}/package.json`);
  const { bin: bins } = JSON.parse(readFileSync(manifest, 'utf8'));
  return join(dirname(manifest), typeof bins === 'string' ? bins : bins[bin]);
};

/** ESLint does not notice that a rule of ours has changed, so the cache is kept by what the rules say. */
const lintCache = () => `node_modules/.cache/eslint-${hashInputs(['.config']).slice(0, 12)}/`;

/** What is judged without running the product, each with the command that mends or repeats it. */
const checks = [
  {
    name: 'format',
    mend: 'npx prettier --write .',
    args: () => [program('prettier'), '--check', '.', '--log-level=warn'],
  },
  {
    name: 'lint',
    mend: 'npx eslint --config .config/eslint.config.mjs .',
    args: () => [
      program('eslint'),
      '--config',
      '.config/eslint.config.mjs',
      '--cache',
      '--cache-location',
      lintCache(),
      '.',
    ],
  },
  {
    name: 'types of packages and servers',
    mend: 'npx tsc -b',
    args: () => [program('typescript', 'tsc'), '-b'],
  },
  {
    name: 'types of the admin',
    mend: 'npx tsc -p apps/admin',
    args: () => [program('typescript', 'tsc'), '-p', 'apps/admin'],
  },
  {
    name: 'types of the tests',
    mend: 'npx tsc -p tests',
    args: () => [program('typescript', 'tsc'), '-p', 'tests'],
    after: 'types of packages and servers',
  },
  {
    name: 'migrations',
    mend: 'npm run make-migration',
    args: () => [inRepository('prisma', 'make-migration.mjs'), '--check'],
  },
];

/**
 * Judges format, lint, types and whether the migrations give what the schema asks for; prints what is wrong.
 *
 * @returns {Promise<{ passed: number, failed: number }>}
 */
export async function runChecks(log, { only } = {}) {
  const chosen = checks.filter(({ name }) => !only || only.includes(name));
  const running = new Map();
  for (const check of chosen) {
    const before = running.get(check.after) ?? Promise.resolve();
    running.set(
      check.name,
      before.then(() => runCheck(check, log)),
    );
  }
  const passed = await Promise.all(running.values());
  return { passed: passed.filter(Boolean).length, failed: passed.filter((one) => !one).length };
}

async function runCheck({ name, args, mend }, log) {
  const start = Date.now();
  const { code, output } = await runProgram(process.execPath, args());
  const seconds = ((Date.now() - start) / 1000).toFixed(1);
  if (output.trim()) log(output.trim());
  log(code === 0 ? `✓ ${name} (${seconds} s)` : `✗ ${name} (${seconds} s): ${mend}`);
  return code === 0;
}
