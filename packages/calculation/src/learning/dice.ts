import { normalQuantile } from '../uncertainty/normal.js';

/** Numbers strictly between 0 and 1; the same seed, the same numbers (mulberry32, public domain). */
export function dice(seed: number): () => number {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return (((mixed ^ (mixed >>> 14)) >>> 0) + 0.5) / 2 ** 32;
  };
}

/** Standard normal numbers from the same dice. */
export function dicedNormals(seed: number): () => number {
  const next = dice(seed);
  return () => normalQuantile(next());
}
