/** How a maker's real lead times compare with the quoted ones, and what it promises. */
export interface Pace {
  /** The median, as a factor on the quoted time. */
  readonly factor: number;
  /** Standard deviation of the logarithm. */
  readonly spread: number;
  /** How many of those a promise lies beyond the median: 1 is kept 84 times in 100, 0.4 two times in three. */
  readonly caution: number;
}

/** Days that an order takes, from those quoted: log-normal, so that none comes before it was sent and some come very late. */
export function takesDays({ factor, spread }: Pace, quotedDays: number, roll: () => number): number {
  const normal = Math.sqrt(-2 * Math.log(1 - roll() * 0.999)) * Math.cos(2 * Math.PI * roll());
  return Math.round(quotedDays * factor * Math.exp(spread * normal));
}

/** Days that the maker promises: it knows its own pace, and leaves itself room by its caution. */
export function promisesDays({ factor, spread, caution }: Pace, quotedDays: number): number {
  return Math.round(quotedDays * factor * Math.exp(spread * caution));
}
