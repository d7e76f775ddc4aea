interface Waiting<Item, Answer> {
  readonly item: Item;
  readonly answered: (answer: Answer) => void;
  readonly failed: (error: unknown) => void;
}

/**
 * Does together what several ask for at the same time. While a batch of a key is being done, what comes gathers for the
 * next; nobody waits for company. When a batch fails each of its items is done by itself, so that a bad one fails alone.
 */
export class Batches<Item, Answer> {
  private readonly waiting = new Map<string, Waiting<Item, Answer>[]>();

  /** `run` does all of its items or none, and answers in their order. */
  constructor(
    private readonly most: number,
    private readonly run: (key: string, items: readonly Item[]) => Promise<readonly Answer[]>,
  ) {}

  /** Does one item, with what else is asked for under its key. */
  add(key: string, item: Item): Promise<Answer> {
    return new Promise((answered, failed) => {
      const one = { item, answered, failed };
      const others = this.waiting.get(key);
      if (others !== undefined) return void others.push(one);
      const first = [one];
      this.waiting.set(key, first);
      // What the same turn of the event loop brings comes along.
      setImmediate(() => void this.empty(key, first));
    });
  }

  private async empty(key: string, waiting: Waiting<Item, Answer>[]): Promise<void> {
    while (waiting.length > 0) await this.runTogether(key, waiting.splice(0, this.most));
    this.waiting.delete(key);
  }

  private async runTogether(key: string, batch: readonly Waiting<Item, Answer>[]): Promise<void> {
    try {
      const answers = await this.run(
        key,
        batch.map(({ item }) => item),
      );
      batch.forEach(({ answered }, at) => answered(answers[at] as Answer));
    } catch (error) {
      if (batch.length === 1) return batch[0]?.failed(error);
      await Promise.all(batch.map((one) => this.runTogether(key, [one])));
    }
  }
}
