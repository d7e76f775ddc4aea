import { lensStates, orderStates } from '@lensferry/domain';
import { addressMark } from '../people/throttle.js';
import type { Database } from '../platform/database.js';
import type { Actor, Work } from '../platform/work.js';

/** What can be counted of the whole network without naming anybody. */
export interface NetworkNumbers {
  readonly orders: Record<string, number>;
  readonly lenses: Record<string, number>;
  readonly waiting: readonly { topic: string; events: number; oldestSeconds: number }[];
  /** Seconds from placing an order until its maker had it, of the last day's: middle and slowest of a hundred. */
  readonly sendSeconds: { p50: number; p99: number } | null;
  readonly signInFailuresLastHour: number;
}

/** Reads them with every clinic in sight, and gives numbers only. */
export async function networkNumbers(database: Database): Promise<NetworkNumbers> {
  return database.work(await everyClinic(database), async (work) => ({
    orders: await byState(work, 'lens_order', orderStates),
    lenses: await byState(work, 'lens_unit', lensStates),
    waiting: await waiting(work),
    sendSeconds: await sendSeconds(work),
    signInFailuresLastHour: await work.tx.signInAttempt.count({
      // Beside each failure of an account there is one of its address.
      where: {
        failed: true,
        NOT: { email: { startsWith: addressMark } },
        at: { gte: new Date(work.now.getTime() - 3_600_000) },
      },
    }),
  }));
}

/** An actor of no role that sees every clinic; it reads numbers and nothing else. */
export async function everyClinic(database: Database): Promise<Actor> {
  const nobody: Actor = { kind: 'worker', personId: null, name: 'Metrics', clinicIds: [] };
  const clinics = await database.work(nobody, ({ tx }) => tx.clinic.findMany({ select: { id: true } }));
  return { ...nobody, clinicIds: clinics.map(({ id }) => id) };
}

async function byState(
  { tx }: Work,
  table: 'lens_order' | 'lens_unit',
  states: readonly string[],
): Promise<Record<string, number>> {
  const rows =
    table === 'lens_order'
      ? await tx.lensOrder.groupBy({ by: ['state'], _count: { _all: true } })
      : await tx.lensUnit.groupBy({ by: ['state'], _count: { _all: true } });
  const found = new Map<string, number>(rows.map(({ state, _count }) => [state, _count._all]));
  return Object.fromEntries(states.map((state) => [state, found.get(state) ?? 0]));
}

async function waiting({ tx, now }: Work): Promise<NetworkNumbers['waiting']> {
  const rows = await tx.outboxEvent.groupBy({
    by: ['topic'],
    where: { doneAt: null },
    _count: { _all: true },
    _min: { createdAt: true },
  });
  return rows.map(({ topic, _count, _min }) => ({
    topic,
    events: _count._all,
    oldestSeconds: _min.createdAt === null ? 0 : (now.getTime() - _min.createdAt.getTime()) / 1000,
  }));
}

async function sendSeconds({ tx, now }: Work): Promise<NetworkNumbers['sendSeconds']> {
  const since = new Date(now.getTime() - 86_400_000);
  const [row] = await tx.$queryRaw<{ p50: number | null; p99: number | null }[]>`
    select percentile_cont(0.5) within group (order by seconds) as p50,
      percentile_cont(0.99) within group (order by seconds) as p99
    from (select extract(epoch from sent_at - placed_at)::float8 as seconds from lens_order
      where sent_at >= ${since} and placed_at is not null) sent`;
  return row === undefined || row.p50 === null || row.p99 === null ? null : { p50: row.p50, p99: row.p99 };
}
