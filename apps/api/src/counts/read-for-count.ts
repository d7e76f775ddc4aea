import type { CountRead } from '@lensferry/contracts';
import { DomainError, LabelError, readLabel } from '@lensferry/domain';
import { fromDate } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import { showCount } from './counts.queries.js';
import { loadCount, requireOpen } from './counts.store.js';

/** Reads one pack: reading it twice counts once. @throws DomainError `count.ended`, `label.…`. */
export async function readForCount(work: Work, id: string, text: string): Promise<CountRead> {
  work.need('lens.count');
  const row = await loadCount(work, id);
  requireOpen(row);
  const serial = serialOf(text, fromDate(work.now));
  const { count } = await work.tx.countReading.createMany({
    data: [{ clinicId: row.clinicId, countId: id, serial, readAt: work.now, readBy: work.actor.name }],
    skipDuplicates: true,
  });
  if (count > 0)
    await work.tx.stockCount.updateMany({
      where: { clinicId: row.clinicId, id, state: 'open' },
      data: { version: { increment: 1 } },
    });
  const seen = await showCount(work, id);
  const finding = seen.findings.find((one) => one.serial === serial);
  return { id, serial, verdict: count === 0 ? 'again' : (finding?.kind ?? 'here'), count: seen };
}

/** A code is read as the desk reads it; anything that is no code is the serial as it was typed. */
function serialOf(text: string, today: string): string {
  if (/^[A-Z0-9][A-Z0-9./-]{0,19}$/i.test(text)) return text.toUpperCase();
  try {
    const { serial } = readLabel(text, { today });
    if (serial !== undefined) return serial;
  } catch (error) {
    if (!(error instanceof LabelError)) throw error;
    throw new DomainError('invalid', error.code, error.message, { position: error.position }, [
      { pointer: '/text', message: error.message },
    ]);
  }
  throw new DomainError(
    'invalid',
    'count.no-serial',
    'This code holds no serial; type it off the pack.',
    {},
    [{ pointer: '/text', message: 'Type the serial off the pack.' }],
  );
}
