import type { SetClock } from '../platform/clock.js';

interface Appointment {
  readonly at: number;
  readonly order: number;
  readonly run: () => Promise<void>;
}

/** What is to happen in the virtual year, in the order of time; what happens may put more on it. */
export class Agenda {
  private readonly heap: Appointment[] = [];
  private count = 0;
  done = 0;

  constructor(
    private readonly clock: SetClock,
    private readonly end: Date,
  ) {}

  /** Puts something on the agenda, never before now; what lies beyond the end never happens. */
  on(day: string, hour: number, run: () => Promise<void>): void {
    const at = Math.max(Date.parse(`${day}T00:00:00Z`) + hour * 3_600_000, this.clock.now().getTime() + 1000);
    if (at > this.end.getTime()) return;
    this.count += 1;
    this.heap.push({ at, order: this.count, run });
    let child = this.heap.length - 1;
    while (child > 0) {
      const parent = (child - 1) >> 1;
      if (!this.before(child, parent)) break;
      this.swap(child, parent);
      child = parent;
    }
  }

  /** Plays everything to the end of the year. */
  async play(): Promise<void> {
    for (let next = this.take(); next !== undefined; next = this.take()) {
      this.clock.set(new Date(next.at));
      await next.run();
      this.done += 1;
    }
    this.clock.set(this.end);
  }

  private take(): Appointment | undefined {
    const first = this.heap[0];
    const last = this.heap.pop();
    if (first === undefined || last === undefined || this.heap.length === 0) return first;
    this.heap[0] = last;
    for (let parent = 0; ;) {
      let least = parent;
      for (const child of [2 * parent + 1, 2 * parent + 2])
        if (child < this.heap.length && this.before(child, least)) least = child;
      if (least === parent) return first;
      this.swap(parent, least);
      parent = least;
    }
  }

  private before(a: number, b: number): boolean {
    const [x, y] = [this.heap[a], this.heap[b]];
    return x !== undefined && y !== undefined && (x.at < y.at || (x.at === y.at && x.order < y.order));
  }

  private swap(a: number, b: number): void {
    const [x, y] = [this.heap[a], this.heap[b]];
    if (x !== undefined && y !== undefined) [this.heap[a], this.heap[b]] = [y, x];
  }
}
