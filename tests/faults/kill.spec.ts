import { describe, expect, it } from 'vitest';
import { findRedis } from '../../apps/launcher/src/redis.mjs';
import { killRun } from '../support/kill-run.js';

const seed = Number(process.env['SEED'] ?? 26_112_025);
const orders = Number(process.env['ORDERS'] ?? 2000);
const kills = Number(process.env['KILLS'] ?? 100);
const timeout = 3 * 3_600_000;
const drainMs = 600_000;

/** The long form, for `npm run faults`: ORDERS, KILLS and SEED can be set. */
describe('two thousand orders through a hundred kills', { timeout }, () => {
  it('go out once each on BullMQ over PostgreSQL', async () => {
    const told = await killRun({ queue: 'postgres', orders, kills, seed, drainMs });
    expect(told).toContain(`${orders} received once each`);
    console.log(told);
  });

  const redis = findRedis();
  if (!redis) console.log('There is no redis-server on PATH: the kills on BullMQ over Redis are skipped.');
  it.skipIf(!redis)('go out once each on BullMQ over Redis, flushed and killed meanwhile', async () => {
    const every = (share: number) => Math.max(1, Math.round(kills * share));
    const told = await killRun({
      queue: 'redis',
      orders,
      kills,
      seed: seed + 1,
      flushAfter: [every(0.25), every(0.6), every(0.99)],
      restartRedisAfter: [every(0.4), every(0.8)],
      drainMs,
    });
    expect(told).toContain(`${orders} received once each`);
    console.log(told);
  });
});
