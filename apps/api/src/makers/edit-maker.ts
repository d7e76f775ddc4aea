import { CalculationError, countsFrom } from '@lensferry/calculation';
import type { EditMaker } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';

export type MakerRow = Prisma.MakerGetPayload<object>;

/**
 * Changes what is agreed with a maker. It is the network's, so the record of each of the administrator's clinics
 * says what was before and what is now.
 * @throws DomainError `maker.missing`, `maker.moved`, `maker.time-zone`.
 */
export async function editMaker(work: Work, makerId: string, input: EditMaker): Promise<void> {
  work.need('maker.edit');
  const { version, ...wanted } = input;
  const maker = await loadMaker(work, makerId);
  requireZone(work.now, wanted.timeZone);
  await changeMaker(work, maker, version, agreed(wanted));
}

/** Texts that were emptied are none; holidays once each and in order. */
export function agreed<T extends Omit<EditMaker, 'version'>>(wanted: T) {
  const { address = undefined, website = undefined, ...rest } = wanted;
  return {
    ...rest,
    holidays: [...new Set(wanted.holidays)].sort(),
    terms: wanted.terms || null,
    ...(address === undefined ? {} : { address: address || null }),
    ...(website === undefined ? {} : { website: website || null }),
  };
}

/** @throws DomainError `maker.missing`. */
export async function loadMaker({ tx }: Work, makerId: string): Promise<MakerRow> {
  const maker = await tx.maker.findUnique({ where: { id: makerId } });
  if (maker === null) throw new DomainError('missing', 'maker.missing', 'There is no such maker.');
  return maker;
}

/** Writes a maker if nobody else has, and what was before and is now into the record of each clinic. */
export async function changeMaker(
  work: Work,
  maker: MakerRow,
  version: number,
  after: Prisma.MakerUncheckedUpdateManyInput,
): Promise<void> {
  const { count } = await work.tx.maker.updateMany({
    where: { id: maker.id, version },
    data: { ...after, version: version + 1 },
  });
  if (count === 0)
    throw new DomainError(
      'conflict',
      'maker.moved',
      'Somebody changed this maker since you opened it; reload to go on.',
      { version: maker.version },
    );
  const changed = (Object.keys(after) as (keyof MakerRow & keyof typeof after)[]).filter(
    (field) => JSON.stringify(maker[field]) !== JSON.stringify(after[field]),
  );
  if (changed.length === 0) return;
  const differences = changed.map((field) => ({
    field,
    before: plain(maker[field]),
    after: plain(after[field]),
  }));
  for (const clinicId of work.actor.clinicIds)
    work.record({ clinicId, action: 'maker.edit', facts: { maker: maker.name, differences } });
}

const plain = (value: unknown): string | number | null =>
  Array.isArray(value) ? value.join(', ') : (value as string | number | null);

/** @throws DomainError `maker.time-zone`. */
export function requireZone(now: Date, timeZone: string): void {
  try {
    countsFrom(now, { timeZone, cutOff: null, holidays: new Set() });
  } catch (error) {
    if (!(error instanceof CalculationError)) throw error;
    throw new DomainError('invalid', 'maker.time-zone', `${timeZone} is no time zone.`, {}, [
      { pointer: '/timeZone', message: 'Write a zone such as Europe/Zurich.' },
    ]);
  }
}
