/** What is counted while the year goes by. */
export class Tally {
  private readonly counts = new Map<string, number>();
  /** One entry for each first order that came to an end of waiting. */
  readonly waits: { toolDays: number; habitDays: number; toolMissed: boolean; habitMissed: boolean }[] = [];
  readonly sizes: { toolExchanged: boolean; habitExchanged: boolean }[] = [];
  readonly problems: string[] = [];

  add(what: string, by = 1): void {
    this.counts.set(what, (this.counts.get(what) ?? 0) + by);
  }

  of(what: string): number {
    return this.counts.get(what) ?? 0;
  }
}
