import type {
  CancellationDocument,
  ChangeDocument,
  InquiryDocument,
  OrderDocument,
  ReturnDocument,
} from '@lensferry/contracts';
import { Journal } from './journal.js';
import type { PlannedMessage } from './plan-messages.js';

/** One document that a maker accepted, with everything that it will say about it. */
export interface Receipt {
  readonly maker: string;
  readonly kind: 'order' | 'return' | 'change' | 'cancellation' | 'inquiry';
  /** Order or return number; of a change or cancellation, the order's number and which one it was. */
  readonly number: string;
  readonly idempotencyKey: string;
  /** SHA-256 of the body, to tell a repetition from another document under the same key. */
  readonly bodyHash: string;
  readonly reference: string;
  readonly receivedAt: string;
  readonly document: OrderDocument | ReturnDocument | ChangeDocument | CancellationDocument | InquiryDocument;
  readonly messages: readonly PlannedMessage[];
}

/** A line of the journal. */
type Entry =
  | { readonly entry: 'receipt'; readonly receipt: Receipt }
  /** The same document came again under another key. */
  | {
      readonly entry: 'again';
      readonly reference: string;
      readonly idempotencyKey: string;
    }
  | {
      readonly entry: 'settled';
      readonly reference: string;
      readonly index: number;
      readonly outcome: Outcome;
    };

/** How a message ended: taken by Lensferry (2xx or 409), or refused for good and set aside. */
export type Outcome = { readonly status: number; readonly how: 'delivered' | 'parked'; readonly at: string };

/** What this process remembers, on disk and in memory. */
export class Book {
  private readonly byKey = new Map<string, Receipt>();
  private readonly byNumber = new Map<string, Receipt>();
  private readonly outcomes = new Map<string, Outcome>();

  private constructor(private readonly journal: Journal<Entry>) {
    for (const entry of journal.entries) this.remember(entry);
  }

  /** Opens the book in a folder and takes up where the last process stopped. */
  static async open(folder: string): Promise<Book> {
    return new Book(await Journal.open<Entry>(folder));
  }

  private remember(entry: Entry): void {
    if (entry.entry === 'receipt') {
      const { receipt } = entry;
      this.byKey.set(`${receipt.maker} ${receipt.kind} ${receipt.idempotencyKey}`, receipt);
      this.byNumber.set(`${receipt.maker} ${receipt.kind} ${receipt.number}`, receipt);
    } else if (entry.entry === 'again') {
      const receipt = [...this.byNumber.values()].find(({ reference }) => reference === entry.reference);
      if (receipt) this.byKey.set(`${receipt.maker} ${receipt.kind} ${entry.idempotencyKey}`, receipt);
    } else {
      this.outcomes.set(`${entry.reference} ${entry.index}`, entry.outcome);
    }
  }

  private async write(entry: Entry): Promise<void> {
    await this.journal.append(entry);
    this.remember(entry);
  }

  findByKey(maker: string, kind: Receipt['kind'], idempotencyKey: string): Receipt | undefined {
    return this.byKey.get(`${maker} ${kind} ${idempotencyKey}`);
  }

  findByNumber(maker: string, kind: Receipt['kind'], number: string): Receipt | undefined {
    return this.byNumber.get(`${maker} ${kind} ${number}`);
  }

  /** The receipt of the order whose shipping notice announced this serial. */
  findBySerial(maker: string, serial: string): { receipt: Receipt; shippedAt: Date } | undefined {
    for (const receipt of this.byNumber.values()) {
      if (receipt.maker !== maker) continue;
      const shipped = receipt.messages.find(
        ({ message }) => message.type === 'order.shipped' && message.unit.serial === serial,
      );
      if (shipped) return { receipt, shippedAt: new Date(shipped.dueAt) };
    }
    return undefined;
  }

  receipts(maker: string, kind: Receipt['kind']): Receipt[] {
    return [...this.byNumber.values()].filter((receipt) => receipt.maker === maker && receipt.kind === kind);
  }

  /** All receipts that still have something to say. */
  unsettled(): Receipt[] {
    return [...this.byNumber.values()].filter((receipt) => this.nextIndex(receipt) < receipt.messages.length);
  }

  /** Messages of one receipt go out in order: the first that has no outcome yet. */
  nextIndex(receipt: Receipt): number {
    let index = 0;
    while (this.outcome(receipt, index)) index += 1;
    return index;
  }

  outcome(receipt: Receipt, index: number): Outcome | undefined {
    return this.outcomes.get(`${receipt.reference} ${index}`);
  }

  addReceipt(receipt: Receipt): Promise<void> {
    return this.write({ entry: 'receipt', receipt });
  }

  addRepetition(receipt: Receipt, idempotencyKey: string): Promise<void> {
    return this.write({ entry: 'again', reference: receipt.reference, idempotencyKey });
  }

  settle(receipt: Receipt, index: number, outcome: Outcome): Promise<void> {
    return this.write({ entry: 'settled', reference: receipt.reference, index, outcome });
  }

  /** An order and the changes of it: everything that will still be said about it. */
  private thread(order: Receipt): Receipt[] {
    const changes = this.receipts(order.maker, 'change').filter(
      ({ document }) => document.document === 'order-change' && document.orderNumber === order.number,
    );
    return [order, ...changes];
  }

  /** Whether an order can still be stopped or changed: its shipping notice has not gone out. */
  canStop(order: Receipt): boolean {
    return this.toShip(order) !== undefined;
  }

  /** The shipping notice that is still to go out; undefined when none is. */
  toShip(order: Receipt): PlannedMessage | undefined {
    return this.thread(order)
      .flatMap((receipt) => receipt.messages.filter((_, index) => this.outcome(receipt, index) === undefined))
      .find(({ message }) => message.type === 'order.shipped');
  }

  /** Nothing more will be said about an order. */
  async stop(order: Receipt): Promise<void> {
    const at = new Date().toISOString();
    for (const receipt of this.thread(order))
      for (let index = this.nextIndex(receipt); index < receipt.messages.length; index += 1)
        await this.settle(receipt, index, { status: 0, how: 'parked', at });
  }

  close(): Promise<void> {
    return this.journal.close();
  }
}
