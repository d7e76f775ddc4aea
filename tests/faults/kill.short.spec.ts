import { describe, expect, it } from 'vitest';
import { findRedis } from '../../apps/launcher/src/redis.mjs';
import { killRun } from '../support/kill-run.js';

const seed = Number(process.env['SEED'] ?? 2611);

/** The short form of `kill.spec.ts`: the same run with fewer orders and kills. */
describe('orders that are placed while processes are killed', () => {
  it('go out once each on BullMQ over PostgreSQL', async () => {
    const told = await killRun({ queue: 'postgres', orders: 24, kills: 4, seed });
    expect(told).toContain('24 received once each');
    console.log(told);
  });

  const redis = findRedis();
  if (!redis) console.log('There is no redis-server on PATH: the kills on BullMQ over Redis are skipped.');
  it.skipIf(!redis)('go out once each on BullMQ over Redis, which loses everything meanwhile', async () => {
    const told = await killRun({ queue: 'redis', orders: 24, kills: 4, seed: seed + 1, flushAfter: [2, 4] });
    expect(told).toContain('24 received once each');
    console.log(told);
  });
});
