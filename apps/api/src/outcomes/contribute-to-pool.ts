import type { Database } from '../platform/database.js';
import { logger } from '../platform/logger.js';
import type { Actor } from '../platform/work.js';
import { readOperatedEyes } from './operated-eyes.queries.js';
import { poolParts } from './pool-parts.js';
import { keepPoolParts, withdrawSmallParts } from './pool.store.js';

const pooler = (clinicIds: readonly string[]): Actor => ({
  kind: 'worker',
  personId: null,
  name: 'Pool',
  clinicIds,
});

/**
 * Each clinic gives its sums, as they were on the first of the month, in a transaction that sees this clinic alone.
 * @returns how many parts were written.
 */
export async function contributeToPool(database: Database): Promise<number> {
  const clinics = await database.work(pooler([]), ({ tx }) => tx.clinic.findMany({ select: { id: true } }));
  let written = 0;
  for (const { id } of clinics)
    written += await database.work(pooler([id]), async (work) => {
      const firstOfMonth = `${work.now.toISOString().slice(0, 7)}-01`;
      const parts = await poolParts(work, await readOperatedEyes(work), firstOfMonth);
      const count = await keepPoolParts(work, id, firstOfMonth, parts);
      const withdrawn = await withdrawSmallParts(work, id, parts);
      if (count + withdrawn > 0)
        work.record({
          clinicId: id,
          action: 'pool.contribute',
          facts: { parts: count, withdrawn, asOf: firstOfMonth },
        });
      return count;
    });
  return written;
}

/** Lets clinics contribute now and every few hours; parts change once a month. */
export function keepContributing(database: Database, everyMs = 6 * 3_600_000): () => Promise<void> {
  let running: Promise<unknown> = Promise.resolve();
  const once = (): void => {
    running = contributeToPool(database).catch((err: Error) =>
      logger.warn({ err: err.message }, 'clinics’ sums were not renewed'),
    );
  };
  once();
  const timer = setInterval(once, everyMs);
  timer.unref();
  return async () => {
    clearInterval(timer);
    await running;
  };
}
