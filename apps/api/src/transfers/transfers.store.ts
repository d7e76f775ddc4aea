import {
  DomainError,
  nextState,
  stepsFrom,
  transferLifecycle,
  transferSides,
  type TransferEvent,
} from '@lensferry/domain';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';

export type TransferRow = Prisma.LensTransferGetPayload<object>;

export const transferMissing = () =>
  new DomainError('missing', 'transfer.missing', 'There is no such transfer at your clinics.');

export const transferMoved = (row: Pick<TransferRow, 'state' | 'version'>) =>
  new DomainError(
    'conflict',
    'transfer.moved',
    `Somebody moved this transfer since you opened it: it is now ${row.state.replaceAll('_', ' ')}. Reload to go on.`,
    { state: row.state, version: row.version },
  );

export async function loadTransfer({ tx }: Work, id: string): Promise<TransferRow> {
  const row = await tx.lensTransfer.findFirst({ where: { id } });
  if (row === null) throw transferMissing();
  return row;
}

/** Loads a transfer as the person saw it. @throws DomainError `transfer.moved`. */
export async function loadTransferAt(work: Work, id: string, version: number): Promise<TransferRow> {
  const row = await loadTransfer(work, id);
  if (row.version !== version) throw transferMoved(row);
  return row;
}

/** The steps that the table allows this person at the end where they work. */
export function stepsOfTransfer(work: Work, row: TransferRow): TransferEvent[] {
  return stepsFrom(transferLifecycle, row.state, work.actor.kind)
    .map(({ event }) => event)
    .filter((event) => isAtEnd(work, row, event));
}

function isAtEnd({ actor }: Work, row: TransferRow, event: TransferEvent): boolean {
  const mine = (clinicId: string | null) => clinicId !== null && actor.clinicIds.includes(clinicId);
  if (transferSides[event] === 'giver') return mine(row.fromClinicId);
  // An offer to whoever needs it is taken up by any other clinic, and by declining nobody would be told anything.
  if (row.toClinicId === null)
    return event === 'accept' && actor.clinicIds.some((clinicId) => clinicId !== row.fromClinicId);
  return mine(row.toClinicId);
}

interface Details {
  readonly data?: Prisma.LensTransferUncheckedUpdateManyInput;
  readonly facts?: Record<string, unknown>;
  readonly why?: string | null;
  /** The clinic that takes it up, whose record gets the step as well. */
  readonly toClinicId?: string;
}

/**
 * Takes a step of a transfer: the only place where its state is written. It goes into the record of the end that takes
 * it; the other end sees it on the transfer.
 */
export async function moveTransfer(
  work: Work,
  row: TransferRow,
  event: TransferEvent,
  { data, facts, why = null, toClinicId }: Details = {},
): Promise<void> {
  const state = nextState(transferLifecycle, row.state, event, work.actor.kind);
  if (!isAtEnd(work, row, event))
    throw new DomainError(
      'forbidden',
      'transfer.other-end',
      `This step is for the clinic that ${transferSides[event] === 'giver' ? 'gives' : 'takes'} the lens.`,
    );
  const { count } = await work.tx.lensTransfer.updateMany({
    where: { id: row.id, state: row.state, version: row.version },
    data: {
      ...data,
      state,
      stateSince: work.now,
      version: row.version + 1,
      ...(why === null ? {} : { note: why }),
    },
  });
  if (count === 0) throw transferMoved(await loadTransfer(work, row.id));
  const giver = transferSides[event] === 'giver';
  work.record({
    clinicId: giver ? row.fromClinicId : (toClinicId ?? row.toClinicId ?? row.fromClinicId),
    action: `transfer.${event}`,
    ...(giver ? { lensId: row.lensId } : {}),
    facts: { serial: row.serial, before: row.state, after: state, ...facts },
    why,
  });
}
