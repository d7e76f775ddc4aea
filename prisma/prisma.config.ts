import { defineConfig } from 'prisma/config';

/** Paths are relative to this file. `DATABASE_URL` is only needed by the commands that connect. */
export default defineConfig({
  schema: 'schema',
  migrations: { path: 'migrations' },
  ...(process.env['DATABASE_URL'] ? { datasource: { url: process.env['DATABASE_URL'] } } : {}),
});
