/**
 * `node apps/launcher/topology.mjs [folder]` runs what docker-compose.yml describes as plain processes: PostgreSQL,
 * Redis, two APIs and three workers. Ctrl-C ends them all.
 */
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { prepare } from './prepare.mjs';
import { requireRecentNode } from './src/node-version.mjs';
import { runMain, StopSentence } from './src/stop-sentence.mjs';
import { listenForStop } from './src/stop-request.mjs';

requireRecentNode();
await runMain(async () => {
  const stop = listenForStop();
  await prepare({ need: ['install', 'packages', 'prisma', 'api', 'admin'] });
  const { findRedis } = await import('./src/redis.mjs');
  if (!findRedis())
    throw new StopSentence('There is no redis-server on PATH: install Redis and start again.');
  const { startTopology } = await import('./src/topology.mjs');
  const { inRepository } = await import('./src/repository.mjs');
  const folder = process.argv[2] ?? mkdtempSync(join(tmpdir(), 'lensferry-topology-'));
  const topology = await startTopology({ folder, env: { ADMIN_DIR: inRepository('apps', 'admin', 'dist') } });
  console.log(`DATABASE_URL=${topology.databaseUrl}\nREDIS_URL=${topology.redis.url}`);
  for (const url of topology.apiUrls) console.log(`API at ${url}`);
  console.log(`Logs in ${folder}; running: ${topology.names().join(', ')}`);
  await stop.requested;
  await topology.stop();
});
