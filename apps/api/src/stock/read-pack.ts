import type { ReadPack } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { labelWords } from '../receiving/read-arrival.js';
import { lensMoved, loadLens, loadLensAt, unreadOf } from './move-lens.js';

/**
 * Keeps what was read off a quarantined pack after all. Only what nobody had read is filled in; what was read stands.
 * @throws DomainError `lens.other-pack`, `lens.read-already`, `lens.not-quarantined`.
 */
export async function readPack(work: Work, lensId: string, input: ReadPack): Promise<void> {
  work.need('arrival.receive');
  const { version, serial, ...read } = input;
  const lens = await loadLensAt(work, lensId, version);
  if (lens.state !== 'quarantined')
    throw new DomainError('conflict', 'lens.not-quarantined', 'Only a quarantined pack is read again.', {
      state: lens.state,
    });
  if (serial !== lens.serial)
    throw new DomainError('refused', 'lens.other-pack', 'This is another pack: its serial differs.', {}, [
      { pointer: '/serial', message: 'The serial of this lens is another; look at the pack again.' },
    ]);
  const unread = unreadOf(lens.lens);
  const said = Object.entries(read).filter(([, value]) => value !== undefined);
  const twice = said.filter(([field]) => !unread.some((name) => name === field)).map(([field]) => field);
  if (twice.length > 0)
    throw new DomainError(
      'refused',
      'lens.read-already',
      `${twice.map((field) => labelWords[field] ?? field).join(', ')} was read before and stands as it was read.`,
      {},
      twice.map((field) => ({ pointer: `/${field}`, message: 'It was read before.' })),
    );
  const { count } = await work.tx.lensUnit.updateMany({
    where: { clinicId: lens.clinicId, id: lens.id, state: 'quarantined', version },
    data: {
      lens: { ...(lens.lens as object), ...Object.fromEntries(said) } as Prisma.InputJsonValue,
      version: version + 1,
    },
  });
  if (count === 0) throw lensMoved(await loadLens(work, lensId));
  work.record({
    clinicId: lens.clinicId,
    action: 'lens.read',
    orderId: lens.orderId,
    lensId: lens.id,
    facts: { serial: lens.serial, ...Object.fromEntries(said) },
  });
}
