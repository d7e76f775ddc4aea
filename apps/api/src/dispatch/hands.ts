/** Any maker gets so many documents at a time from one process: a slow one can't take every hand. */
const handsForOneMaker = 3;
/** One that answered its last document at once gets more. */
const handsForAQuickOne = 12;
/** Beyond the first three of each maker no more are out than these, whoever has them: the rest are for everybody. */
const handsBeyond = 12;
const quickWithinMs = 1000;
const mostNoted = 10_000;

/** So many jobs may be in hand at once: it takes eight makers that don't answer to fill them all. */
export const jobsAtOnce = 36;

/** Who has how many documents of this process in hand. */
export class Hands {
  private readonly busy = new Map<string, number>();
  private readonly quick = new Set<string>();
  private readonly waiting = new Map<string, string>();

  /** Notes that an event was put back because its maker is busy. */
  putBack(eventId: string, makerId: string): void {
    // Those that another process took stay here; when they have become many they are all forgotten.
    if (this.waiting.size >= mostNoted) this.waiting.clear();
    this.waiting.set(eventId, makerId);
  }

  /** Whether an event was put back and its maker is still busy: nothing need be read to see that. */
  stillWaits(eventId: string): boolean {
    const makerId = this.waiting.get(eventId);
    if (makerId === undefined) return false;
    if (this.free(makerId) === 0) return true;
    this.waiting.delete(eventId);
    return false;
  }

  /** How many more documents may be with this maker. */
  free(makerId: string): number {
    const has = this.busyWith(makerId);
    const first = Math.max(0, handsForOneMaker - has);
    if (!this.quick.has(makerId)) return first;
    const more = handsForAQuickOne - Math.max(has, handsForOneMaker);
    return first + Math.max(0, Math.min(more, handsBeyond - this.beyond()));
  }

  take(makerId: string, count: number): void {
    this.busy.set(makerId, this.busyWith(makerId) + count);
  }

  giveBack(makerId: string, count = 1): void {
    const left = this.busyWith(makerId) - count;
    if (left > 0) this.busy.set(makerId, left);
    else this.busy.delete(makerId);
  }

  /** Notes how long a maker took to answer; null when it did not. */
  answered(makerId: string, tookMs: number | null): void {
    if (tookMs !== null && tookMs <= quickWithinMs) this.quick.add(makerId);
    else this.quick.delete(makerId);
  }

  private busyWith(makerId: string): number {
    return this.busy.get(makerId) ?? 0;
  }

  private beyond(): number {
    return [...this.busy.values()].reduce((sum, has) => sum + Math.max(0, has - handsForOneMaker), 0);
  }
}
