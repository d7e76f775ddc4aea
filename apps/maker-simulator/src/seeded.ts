/** A 32-bit number from a text (FNV-1a), so that the same order always meets the same fate. */
export function hashText(text: string): number {
  let hash = 0x811c9dc5;
  for (const character of text) {
    hash ^= character.codePointAt(0) as number;
    hash = Math.imul(hash, 0x01000193);
  }
  return hash >>> 0;
}

/** Repeatable numbers from 0 up to 1 (mulberry32). For play only, never for secrets. */
export function seededNumbers(seed: string): () => number {
  let state = hashText(seed);
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** A whole number from `from` to `to`, both included. */
export function between(next: () => number, from: number, to: number): number {
  return from + Math.floor(next() * (to - from + 1));
}

/** The ISO plain date `days` calendar days after an instant, in UTC. */
export function dateAfter(instant: Date, days: number): string {
  return new Date(instant.getTime() + days * 86_400_000).toISOString().slice(0, 10);
}

/** The ISO plain date that is `workingDays` Mondays to Fridays after an instant; play makers keep no holidays. */
export function workingDateAfter(instant: Date, workingDays: number): string {
  let left = workingDays;
  let days = 0;
  while (left > 0) {
    days += 1;
    const weekday = new Date(instant.getTime() + days * 86_400_000).getUTCDay();
    if (weekday !== 0 && weekday !== 6) left -= 1;
  }
  return dateAfter(instant, days);
}
