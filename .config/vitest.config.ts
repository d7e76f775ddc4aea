import { defineConfig } from 'vitest/config';

const WITH_DATABASE = './tests/support/database-setup.ts';
/** Minutes for what drives browsers or kills processes on a slow machine; nothing waits on time alone. */
const PATIENT_MS = 180_000;

/**
 * The suites, each with the folder it reads. `groupOrder` runs them one after the other when several are asked
 * for, because they share two cores; a suite of `oneAtATime` also runs its files one after the other.
 */
const suites = [
  { name: 'unit', include: ['packages/**/*.spec.ts', 'apps/**/*.spec.{ts,tsx}', '.config/**/*.spec.ts'] },
  { name: 'published', include: ['tests/published/**/*.spec.ts'] },
  { name: 'api', include: ['tests/api/**/*.spec.ts'], database: true },
  { name: 'tenancy', include: ['tests/tenancy/**/*.spec.ts'], database: true },
  { name: 'launcher', include: ['tests/launcher/**/*.spec.ts'], database: true, oneAtATime: true },
  { name: 'faults-short', include: ['tests/faults/**/*.short.spec.ts'], database: true, oneAtATime: true },
  { name: 'faults', include: ['tests/faults/**/*.spec.ts'], database: true, oneAtATime: true },
  { name: 'load', include: ['tests/bench/load/**/*.load.ts'], database: true, oneAtATime: true },
  { name: 'bench-admin', include: ['tests/bench/admin/**/*.load.ts'], database: true, oneAtATime: true },
  { name: 'browser', include: ['tests/browser/**/*.spec.ts'], database: true, oneAtATime: true },
];

export default defineConfig({
  root: '.',
  test: {
    projects: suites.map(({ name, include, database = false, oneAtATime = false }, groupOrder) => ({
      root: '.',
      test: {
        name,
        include,
        exclude: ['**/node_modules/**', '**/dist/**'],
        sequence: { groupOrder },
        fileParallelism: !oneAtATime,
        globalSetup: database ? [WITH_DATABASE] : [],
        testTimeout: oneAtATime ? PATIENT_MS : 30_000,
        hookTimeout: oneAtATime ? PATIENT_MS : 60_000,
      },
    })),
  },
});
