import type { StartCount } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import { v7 as uuid } from 'uuid';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';

export type CountRow = Prisma.StockCountGetPayload<object>;

export const countMoved = (row: { state: string; version: number }) =>
  new DomainError(
    'conflict',
    'count.moved',
    'Somebody ended this count, or read more packs since you opened it. Reload to go on.',
    { state: row.state, version: row.version },
  );

/** @throws DomainError `count.missing`. */
export async function loadCount({ tx }: Work, id: string): Promise<CountRow> {
  const row = await tx.stockCount.findFirst({ where: { id } });
  if (row === null)
    throw new DomainError('missing', 'count.missing', 'There is no such count at your clinics.');
  return row;
}

/** @throws DomainError `count.ended`. */
export function requireOpen(row: CountRow): void {
  if (row.state === 'open') return;
  throw new DomainError('conflict', 'count.ended', 'This count has ended; start another one.', {
    state: row.state,
  });
}

/** Begins to count a place; one place is counted once at a time. @throws DomainError `clinic.missing`, `count.open`. */
export async function startCount(work: Work, { clinicId, location }: StartCount): Promise<string> {
  work.need('lens.count');
  if (!work.actor.clinicIds.includes(clinicId))
    throw new DomainError('missing', 'clinic.missing', 'You do not work at that clinic.', {}, [
      { pointer: '/clinicId', message: 'Choose one of your clinics.' },
    ]);
  const open = await work.tx.stockCount.findFirst({
    where: { clinicId, state: 'open', location: { equals: location, mode: 'insensitive' } },
  });
  if (open !== null)
    throw new DomainError(
      'conflict',
      'count.open',
      `${location} is being counted already, by ${open.openedBy}; go on with that count.`,
      { location, by: open.openedBy },
    );
  const id = uuid();
  await work.tx.stockCount.create({
    data: { clinicId, id, location, state: 'open', openedAt: work.now, openedBy: work.actor.name },
  });
  work.record({ clinicId, action: 'count.start', facts: { location } });
  return id;
}

/** Ends a count without its having counted anything. */
export async function giveUpCount(
  work: Work,
  id: string,
  { version, why }: { version: number; why: string },
): Promise<void> {
  work.need('lens.count');
  await endCount(work, id, version, { state: 'given_up' });
  const { clinicId, location } = await loadCount(work, id);
  work.record({ clinicId, action: 'count.give-up', facts: { location }, why });
}

/** Ends an open count as the person saw it. @throws DomainError `count.moved`, `count.ended`. */
export async function endCount(
  work: Work,
  id: string,
  version: number,
  data: { state: 'closed' | 'given_up'; result?: Prisma.InputJsonObject },
): Promise<void> {
  const row = await loadCount(work, id);
  requireOpen(row);
  const { count } = await work.tx.stockCount.updateMany({
    where: { clinicId: row.clinicId, id, state: 'open', version },
    data: { ...data, endedAt: work.now, endedBy: work.actor.name, version: version + 1 },
  });
  if (count === 0) throw countMoved(await loadCount(work, id));
}
