import { dice } from '../../apps/api/dist/demo/eyes.js';
import type { Ending } from '../../apps/api/dist/demo/stories.js';
import { tell } from '../../apps/api/dist/demo/tell.js';
import type { SetClock } from '../../apps/api/dist/platform/clock.js';
import type { House } from './house.js';

/** What became of one eye: how far its case has come, where, by whose lens, and how long ago that was ordered. */
export type Past = readonly [ending: Ending, clinic: 'EST' | 'NOR' | 'HAR', maker: string, daysAgo: number];

/** Tells the pasts of many eyes through the use cases, in the order of time, and sets the clock back to now. */
export async function tellPasts(
  house: House,
  clock: SetClock,
  pasts: readonly Past[],
  seed: number,
): Promise<void> {
  const now = clock.now();
  const cast = { ...house.network, database: house.database, clock };
  const moments = pasts
    .flatMap(([ending, clinic, maker, daysAgo], index) =>
      tell(cast, { ending, clinic, maker, daysAgo }, index, dice(seed + index * 101), now),
    )
    .map((moment, order) => ({ ...moment, order }))
    .sort((a, b) => a.at.getTime() - b.at.getTime() || a.order - b.order);
  for (const { at, run } of moments) {
    clock.set(at);
    await run();
  }
  clock.set(now);
}
