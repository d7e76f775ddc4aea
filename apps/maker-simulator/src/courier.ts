import { Webhook } from 'standardwebhooks';
import type { Book, Receipt } from './book.js';
import type { Settings } from './settings.js';

const FIRST_RETRY_MS = 200;
const LONGEST_RETRY_MS = 15_000;
const ATTEMPT_MS = 10_000;

/** Writes one line about something that a person may want to know. */
export type Log = (line: string) => void;

/** Carries due messages to Lensferry, each receipt's in order, again and again until they are taken. */
export class Courier {
  private readonly secrets: Map<string, string>;
  private readonly carrying = new Set<Receipt>();
  private readonly attempts = new Map<Receipt, { count: number; notBefore: number }>();
  private readonly underWay = new Set<Promise<void>>();
  private readonly stopping = new AbortController();
  private timer: NodeJS.Timeout | undefined;

  constructor(
    private readonly book: Book,
    private readonly settings: Settings,
    private readonly log: Log,
  ) {
    this.secrets = new Map(settings.makers.map((maker) => [maker.code, maker.secret]));
  }

  /** Looks for what is due and sets the clock for what is not. Call after every new receipt. */
  wake(): void {
    if (this.stopping.signal.aborted) return;
    clearTimeout(this.timer);
    const now = Date.now();
    let nextAt = Infinity;
    for (const receipt of this.book.unsettled()) {
      if (this.carrying.has(receipt) || !this.secrets.has(receipt.maker)) continue;
      const dueAt = Date.parse(receipt.messages[this.book.nextIndex(receipt)]?.dueAt ?? '');
      const at = Math.max(dueAt, this.attempts.get(receipt)?.notBefore ?? 0);
      if (at <= now) this.start(receipt);
      else nextAt = Math.min(nextAt, at);
    }
    if (nextAt < Infinity) this.timer = setTimeout(() => this.wake(), Math.min(nextAt - now, 60_000));
  }

  private start(receipt: Receipt): void {
    this.carrying.add(receipt);
    const work = this.carry(receipt)
      .catch((error: unknown) => this.log(`${receipt.number}: ${String(error)}`))
      .finally(() => {
        this.carrying.delete(receipt);
        this.underWay.delete(work);
        this.wake();
      });
    this.underWay.add(work);
  }

  private async carry(receipt: Receipt): Promise<void> {
    const index = this.book.nextIndex(receipt);
    const { status, retryAfterMs } = await this.attempt(receipt, index);
    const taken = (status >= 200 && status < 300) || status === 409;
    const refused = status >= 400 && status < 500 && status !== 429 && status !== 408;
    if (taken || refused) {
      this.attempts.delete(receipt);
      const how = taken ? 'delivered' : 'parked';
      await this.book.settle(receipt, index, { status, how, at: new Date().toISOString() });
      if (refused)
        this.log(`${receipt.number}: Lensferry refused message ${index + 1} with ${status}; set aside.`);
      return;
    }
    const count = (this.attempts.get(receipt)?.count ?? 0) + 1;
    const backoff = Math.min(LONGEST_RETRY_MS, FIRST_RETRY_MS * 2 ** (count - 1));
    this.attempts.set(receipt, { count, notBefore: Date.now() + Math.max(backoff, retryAfterMs) });
  }

  /** One POST; status 0 when nobody answered. */
  private async attempt(receipt: Receipt, index: number): Promise<{ status: number; retryAfterMs: number }> {
    const body = JSON.stringify(receipt.messages[index]?.message);
    const id = `msg_${receipt.reference}_${index}`;
    const now = new Date();
    const signature = new Webhook(this.secrets.get(receipt.maker) as string).sign(id, now, body);
    try {
      const answer = await fetch(
        `${this.settings.lensferryUrl}/api/maker-messages/${encodeURIComponent(receipt.maker)}`,
        {
          method: 'POST',
          headers: {
            'content-type': 'application/json',
            'webhook-id': id,
            'webhook-timestamp': String(Math.floor(now.getTime() / 1000)),
            'webhook-signature': signature,
          },
          body,
          redirect: 'manual',
          signal: AbortSignal.any([this.stopping.signal, AbortSignal.timeout(ATTEMPT_MS)]),
        },
      );
      await answer.arrayBuffer();
      const seconds = Number(answer.headers.get('retry-after') ?? 0);
      return { status: answer.status, retryAfterMs: seconds > 0 ? Math.min(seconds, 60) * 1000 : 0 };
    } catch {
      return { status: 0, retryAfterMs: 0 };
    }
  }

  /** Ends attempts that are under way; what was not taken goes out at the next start. */
  async stop(): Promise<void> {
    this.stopping.abort();
    clearTimeout(this.timer);
    await Promise.all(this.underWay);
  }
}
