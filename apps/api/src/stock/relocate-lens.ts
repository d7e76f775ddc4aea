import type { Work } from '../platform/work.js';
import { lensMoved, loadLens, type LensRow } from './move-lens.js';

/** A unit stands in another place of its clinic; its state stays as it is. @throws DomainError `lens.moved`. */
export async function relocateLens(
  work: Work,
  lens: LensRow,
  location: string,
  why: string | null,
): Promise<void> {
  if (location === lens.location) return;
  const { count } = await work.tx.lensUnit.updateMany({
    where: { clinicId: lens.clinicId, id: lens.id, version: lens.version },
    data: { location, version: lens.version + 1 },
  });
  if (count === 0) throw lensMoved(await loadLens(work, lens.id));
  work.record({
    clinicId: lens.clinicId,
    action: 'lens.relocate',
    caseId: lens.caseId,
    orderId: lens.orderId,
    lensId: lens.id,
    facts: { serial: lens.serial, before: lens.state, after: lens.state, location },
    why,
  });
}
