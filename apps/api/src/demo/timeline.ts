/** Something that happens at a moment of the demo's past. */
export interface Moment {
  readonly at: Date;
  readonly run: () => Promise<void>;
}

const dayMs = 86_400_000;

/**
 * The moments of one case, in order. Days count back from now, weekends move to the Friday before, and no moment is
 * before the one that it follows.
 */
export class Timeline {
  readonly moments: Moment[] = [];
  private last = 0;

  constructor(private readonly now: Date) {}

  /** The plain date so many days from now (negative: ago), on a weekday. */
  day(offset: number): string {
    const date = new Date(this.now.getTime() + offset * dayMs);
    const weekday = date.getUTCDay();
    const back = weekday === 6 ? 1 : weekday === 0 ? 2 : 0;
    return new Date(date.getTime() - back * dayMs).toISOString().slice(0, 10);
  }

  /** Adds what happens so many days from now, at about an hour of the day. */
  add(offset: number, hour: number, run: (day: string) => Promise<void>): void {
    const day = this.day(Math.min(0, offset));
    const wanted = Date.parse(`${day}T00:00:00Z`) + hour * 3_600_000;
    const latest = this.now.getTime() - (200 - this.moments.length) * 1000;
    const at = Math.max(Math.min(wanted, latest), this.last + 1000);
    this.last = at;
    this.moments.push({ at: new Date(at), run: () => run(day) });
  }
}
