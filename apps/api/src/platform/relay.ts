import type { Queue } from 'bullmq';
import pg from 'pg';
import { connectionAs } from './database.js';
import { LastingClient } from './lasting-client.js';
import { logger } from './logger.js';
import type { DispatchJob } from './queue.js';

const pollMs = 1000;
const batch = 100;

interface Waiting {
  id: string;
  clinic_id: string;
  topic: string;
  payload: Record<string, string>;
  resend: boolean;
}

/**
 * Moves outbox rows to the queue: at once when a transaction says so, and by a poll in case nobody was listening.
 * A row that was queued and is not done after a while is queued again under a new job id, so that neither a lost
 * queue nor a killed worker loses an order. Any number of relays may run; a row is locked by the one that moves it.
 */
export class Relay {
  private readonly pool: pg.Pool;
  private listener: pg.Client | undefined;
  private timer: NodeJS.Timeout | undefined;
  private running: Promise<void> | undefined;
  private stopped = false;

  constructor(
    private readonly databaseUrl: string,
    private readonly queue: Queue<DispatchJob>,
    private readonly sweepAfterMs: number,
  ) {
    this.pool = new pg.Pool({
      connectionString: connectionAs('lensferry_relay', databaseUrl),
      max: 2,
      Client: LastingClient,
    });
    this.pool.on('error', (err) => logger.warn({ err: err.message }, 'relay'));
  }

  start(): void {
    this.timer = setInterval(() => this.wake(), pollMs);
    void this.listen();
    this.wake();
  }

  async stop(): Promise<void> {
    this.stopped = true;
    clearInterval(this.timer);
    await this.running?.catch(() => undefined);
    await this.listener?.end().catch(() => undefined);
    await this.pool.end();
  }

  private wake(): void {
    if (this.stopped) return;
    this.running ??= this.moveAll()
      .catch((err: Error) => logger.warn({ err: err.message }, 'relay'))
      .finally(() => {
        this.running = undefined;
      });
  }

  private async listen(): Promise<void> {
    while (!this.stopped) {
      const client = new LastingClient(connectionAs('lensferry_relay', this.databaseUrl));
      try {
        await client.connect();
        const lost = new Promise<void>((resolve) => {
          client.on('error', () => resolve());
          client.on('end', () => resolve());
        });
        client.on('notification', () => this.wake());
        await client.query('listen lensferry_outbox');
        this.listener = client;
        await lost;
      } catch (error) {
        logger.warn({ err: (error as Error).message }, 'relay listens again');
      }
      await client.end().catch(() => undefined);
      if (!this.stopped) await new Promise((resolve) => setTimeout(resolve, pollMs).unref());
    }
  }

  private async moveAll(): Promise<void> {
    while (!this.stopped && (await this.moveBatch()) === batch);
  }

  private async moveBatch(): Promise<number> {
    const client = await this.pool.connect();
    try {
      await client.query('begin');
      const { rows } = await client.query<Waiting>(
        `select id, clinic_id, topic, payload, published_at is not null as resend from outbox_event
         where done_at is null and (published_at is null or published_at < now() - make_interval(secs => $1))
         order by created_at limit ${batch} for update skip locked`,
        [this.sweepAfterMs / 1000],
      );
      if (rows.length > 0) {
        await this.queue.addBulk(rows.map(toJob));
        await client.query('update outbox_event set published_at = now() where id = any($1)', [
          rows.map(({ id }) => id),
        ]);
      }
      await client.query('commit');
      return rows.length;
    } catch (error) {
      await client.query('rollback').catch(() => undefined);
      throw error;
    } finally {
      client.release();
    }
  }
}

function toJob({ id, clinic_id, topic, payload, resend }: Waiting) {
  const jobId = resend ? `ob-${id}-${Date.now()}` : `ob-${id}`;
  return { name: topic, data: { eventId: id, clinicId: clinic_id, topic, payload }, opts: { jobId } };
}
