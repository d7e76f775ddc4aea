/**
 * `node prisma/generate-client.mjs` writes the typed database client from prisma/schema.
 *
 * Generating needs only WebAssembly parts that are installed with Prisma, but its command line first wants to
 * download a native engine. Any existing file named as that engine keeps it from asking.
 */
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const inRepository = (path) => fileURLToPath(new URL(`../${path}`, import.meta.url));

const { status } = spawnSync(
  process.execPath,
  [
    inRepository('node_modules/prisma/build/index.js'),
    'generate',
    '--config',
    inRepository('prisma/prisma.config.ts'),
    '--no-hints',
  ],
  {
    stdio: 'inherit',
    cwd: inRepository('.'),
    env: {
      ...process.env,
      PRISMA_SCHEMA_ENGINE_BINARY: fileURLToPath(import.meta.url),
      PRISMA_HIDE_UPDATE_MESSAGE: '1',
      CHECKPOINT_DISABLE: '1',
    },
  },
);
process.exitCode = status ?? 1;
