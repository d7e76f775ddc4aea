import { DomainError, lensLifecycle, nextState, type LensEvent } from '@lensferry/domain';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';

export type LensRow = Prisma.LensUnitGetPayload<object>;

export const lensMissing = () =>
  new DomainError('missing', 'lens.missing', 'There is no such lens at your clinics.');

export const lensMoved = (row: { state: string; version: number }) =>
  new DomainError(
    'conflict',
    'lens.moved',
    `Somebody moved this lens since you opened it: it is now ${row.state.replaceAll('_', ' ')}. Reload to go on.`,
    {
      state: row.state,
      version: row.version,
    },
  );

const readFields = ['eye', 'sphereD', 'cylinderD', 'axisDeg', 'lengthMm'] as const;

/** Which fields of a unit nobody has read off its pack; a lens without cylinder has no axis to read. */
export function unreadOf(lens: unknown): (typeof readFields)[number][] {
  const read = lens as Record<string, unknown>;
  return readFields.filter(
    (field) => (read[field] ?? null) === null && !(field === 'axisDeg' && read['cylinderD'] === 0),
  );
}

export async function loadLens({ tx }: Work, lensId: string): Promise<LensRow> {
  const row = await tx.lensUnit.findFirst({ where: { id: lensId } });
  if (row === null) throw lensMissing();
  return row;
}

export async function loadLensAt(work: Work, lensId: string, version: number): Promise<LensRow> {
  const row = await loadLens(work, lensId);
  if (row.version !== version) throw lensMoved(row);
  return row;
}

/**
 * Takes one step of the lens's lifecycle: the only place where a lens's state is written. Two people who reach for
 * the same lens meet at the conditional update; the second is told how it stands.
 */
export async function moveLens(
  work: Work,
  lens: LensRow,
  event: LensEvent,
  data: Prisma.LensUnitUncheckedUpdateManyInput,
  why: string | null = null,
): Promise<LensRow> {
  const state = nextState(lensLifecycle, lens.state, event, work.actor.kind);
  await requireNotOffered(work, lens, event);
  const { count } = await work.tx.lensUnit.updateMany({
    where: { clinicId: lens.clinicId, id: lens.id, state: lens.state, version: lens.version },
    data: { ...data, state, stateSince: work.now, version: lens.version + 1 },
  });
  if (count === 0) throw lensMoved(await loadLens(work, lens.id));
  work.record({
    clinicId: lens.clinicId,
    action: `lens.${event}`,
    caseId: typeof data.caseId === 'string' ? data.caseId : lens.caseId,
    orderId: lens.orderId,
    lensId: lens.id,
    facts: {
      serial: lens.serial,
      before: lens.state,
      after: state,
      ...(typeof data.location === 'string' ? { location: data.location } : {}),
    },
    why,
  });
  return loadLens(work, lens.id);
}

/** A unit that is offered to another clinic is nobody's to use until the offer is withdrawn. @throws DomainError `lens.offered`. */
export async function requireNotOffered({ tx }: Work, lens: LensRow, event: LensEvent): Promise<void> {
  if (lens.state !== 'in_stock' || event === 'hand-over') return;
  const open = await tx.lensTransfer.findFirst({
    where: { fromClinicId: lens.clinicId, lensId: lens.id, state: { in: ['offered', 'accepted'] } },
  });
  if (open !== null)
    throw new DomainError(
      'refused',
      'lens.offered',
      `Lens ${lens.serial} is offered to another clinic; withdraw the offer first.`,
      { serial: lens.serial },
    );
}
