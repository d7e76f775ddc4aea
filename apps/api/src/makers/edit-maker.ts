import { CalculationError, countsFrom } from '@lensferry/calculation';
import type { EditMaker } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import type { Work } from '../platform/work.js';

/**
 * Changes what is agreed with a maker. It is the network's, so the record of each of the administrator's clinics
 * says what was before and what is now.
 * @throws DomainError `maker.missing`, `maker.moved`, `maker.time-zone`.
 */
export async function editMaker(work: Work, makerId: string, input: EditMaker): Promise<void> {
  work.need('maker.edit');
  const { version, ...wanted } = input;
  const maker = await work.tx.maker.findUnique({ where: { id: makerId } });
  if (maker === null) throw new DomainError('missing', 'maker.missing', 'There is no such maker.');
  requireZone(work.now, wanted.timeZone);
  const holidays = [...new Set(wanted.holidays)].sort();
  const after = { ...wanted, holidays, terms: wanted.terms === '' ? null : wanted.terms };
  const { count } = await work.tx.maker.updateMany({
    where: { id: makerId, version },
    data: { ...after, version: version + 1 },
  });
  if (count === 0)
    throw new DomainError(
      'conflict',
      'maker.moved',
      'Somebody changed this maker since you opened it; reload to go on.',
      { version: maker.version },
    );
  const changed = (Object.keys(after) as (keyof typeof after)[]).filter(
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

function requireZone(now: Date, timeZone: string): void {
  try {
    countsFrom(now, { timeZone, cutOff: null, holidays: new Set() });
  } catch (error) {
    if (!(error instanceof CalculationError)) throw error;
    throw new DomainError('invalid', 'maker.time-zone', `${timeZone} is no time zone.`, {}, [
      { pointer: '/timeZone', message: 'Write a zone such as Europe/Zurich.' },
    ]);
  }
}
