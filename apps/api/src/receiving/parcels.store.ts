import type { KeepParcel, UnexpectedParcel } from '@lensferry/contracts';
import { DomainError, nextState, parcelLifecycle, stepsFrom, type ParcelEvent } from '@lensferry/domain';
import { v7 as uuid } from 'uuid';
import { namesOf } from '../people/people.queries.js';
import { dayIn } from '../platform/plain-date.js';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { readEntry } from './read-arrival.js';

type Row = Prisma.UnexpectedParcelGetPayload<object>;

/** Notes a parcel that nobody expected, with what stands on it: it stays on the worklist until its place is known. */
export async function keepParcel(work: Work, input: KeepParcel): Promise<string> {
  work.need('arrival.receive');
  const clinic = await work.tx.clinic.findFirst({
    where: { id: { equals: input.clinicId, in: [...work.actor.clinicIds] } },
  });
  if (clinic === null)
    throw new DomainError('missing', 'clinic.missing', 'You do not work at that clinic.', {}, [
      { pointer: '/clinicId', message: 'Choose one of your clinics.' },
    ]);
  const { found } = readEntry(input.label, dayIn(clinic.timeZone, work.now));
  const id = uuid();
  await work.tx.unexpectedParcel.create({
    data: {
      clinicId: clinic.id,
      id,
      found: found as Prisma.InputJsonObject,
      labelText: input.label.text,
      location: input.location,
      note: input.note,
      state: 'kept',
      stateSince: work.now,
      receivedAt: work.now,
      receivedBy: work.personId,
    },
  });
  work.record({
    clinicId: clinic.id,
    action: 'parcel.keep',
    facts: { serial: found['serial'] ?? null, location: input.location },
    why: input.note,
  });
  return id;
}

/** Parcels that still have to be placed, the oldest first. */
export async function parcelsToPlace(work: Work, most: number): Promise<UnexpectedParcel[]> {
  const rows = await work.tx.unexpectedParcel.findMany({
    where: { state: 'kept' },
    orderBy: [{ receivedAt: 'asc' }, { id: 'asc' }],
    take: most,
  });
  return describe(work, rows);
}

export async function showParcel(work: Work, id: string): Promise<UnexpectedParcel> {
  const [parcel] = await describe(work, [await loadParcel(work, id)]);
  return parcel as UnexpectedParcel;
}

async function loadParcel({ tx }: Work, id: string): Promise<Row> {
  const row = await tx.unexpectedParcel.findFirst({ where: { id } });
  if (row === null)
    throw new DomainError('missing', 'parcel.missing', 'There is no such parcel at your clinics.');
  return row;
}

/** Takes a step of a parcel's; the only place where its state is written. @throws DomainError `parcel.moved`. */
export async function moveParcel(
  work: Work,
  id: string,
  event: ParcelEvent,
  { version, why, orderId }: { version: number; why: string; orderId?: string },
): Promise<void> {
  const row = await loadParcel(work, id);
  const state = nextState(parcelLifecycle, row.state, event, work.actor.kind);
  if (orderId !== undefined) await requireOwnOrder(work, row, orderId);
  const { count } = await work.tx.unexpectedParcel.updateMany({
    where: { clinicId: row.clinicId, id, state: row.state, version },
    data: { state, stateSince: work.now, version: version + 1, endedWhy: why, orderId: orderId ?? null },
  });
  if (count === 0)
    throw new DomainError(
      'conflict',
      'parcel.moved',
      'Somebody placed this parcel since you opened it. Reload to go on.',
      { version: row.version },
    );
  work.record({
    clinicId: row.clinicId,
    action: `parcel.${event}`,
    orderId: orderId ?? null,
    facts: { before: row.state, after: state },
    why,
  });
}

async function requireOwnOrder({ tx }: Work, row: Row, orderId: string): Promise<void> {
  const order = await tx.lensOrder.findFirst({ where: { id: orderId, clinicId: row.clinicId } });
  if (order !== null) return;
  throw new DomainError('missing', 'order.missing', 'There is no such order at your clinics.', {}, [
    { pointer: '/orderId', message: 'Choose an order of the clinic where the parcel is.' },
  ]);
}

async function describe(work: Work, rows: readonly Row[]): Promise<UnexpectedParcel[]> {
  const names = await namesOf(
    work,
    rows.map(({ receivedBy }) => receivedBy),
  );
  const clinics = new Map((await work.tx.clinic.findMany()).map(({ id, name }) => [id, name]));
  return rows.map((row) => ({
    id: row.id,
    clinic: { id: row.clinicId, name: clinics.get(row.clinicId) ?? '' },
    found: row.found as UnexpectedParcel['found'],
    location: row.location,
    note: row.note,
    state: row.state,
    stateSince: row.stateSince.toISOString(),
    receivedAt: row.receivedAt.toISOString(),
    receivedByName: names.get(row.receivedBy) ?? '',
    orderId: row.orderId,
    endedWhy: row.endedWhy,
    version: row.version,
    steps: stepsFrom(parcelLifecycle, row.state, work.actor.kind).map(({ event }) => event),
  }));
}
