import { COUNTED_AT_MOST, type ListQuery, type PersonPage, type PersonSummary } from '@lensferry/contracts';
import { roles } from '@lensferry/domain';
import type { z } from 'zod';
import { readCursor, writeCursor, type Cursor } from '../platform/cursor.js';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';

const around = {
  memberships: { include: { clinic: { select: { id: true, code: true, name: true, timeZone: true } } } },
} as const satisfies Prisma.PersonInclude;
type Row = Prisma.PersonGetPayload<{ include: typeof around }>;

/**
 * A page of the people at the actor's clinics: by name, or those whose accounts were made last. `state` is a role, or
 * several. Nobody belongs to one clinic alone, so this is cut from the people themselves, not clinic by clinic.
 * @throws DomainError `list.cursor-unreadable`.
 */
export async function listPeople(work: Work, query: ListQuery): Promise<z.infer<typeof PersonPage>> {
  const { tx } = work;
  const sort = query.sort === 'recent' ? 'recent' : 'name';
  const cursor = query.cursor === undefined ? null : readCursor(query.cursor, sort, 'text', 1);
  const back = cursor?.side === 'before';
  const falling = (sort === 'recent') !== back;
  const who = conditions(work, query);
  const direction = falling ? 'desc' : 'asc';
  const rows = await tx.person.findMany({
    where: { AND: [who, cursor === null ? {} : beyond(cursor, sort, falling)] },
    include: around,
    // Identifiers rise with the time at which they are made.
    orderBy: sort === 'recent' ? { id: direction } : [{ name: direction }, { id: direction }],
    take: query.perPage + 1,
  });
  const isMore = rows.length > query.perPage;
  const here = rows.slice(0, query.perPage);
  if (back) here.reverse();
  const count = await tx.person.count({ where: who, take: COUNTED_AT_MOST + 1 });
  const place = (row: Row | undefined, side: Cursor['side']) =>
    row === undefined ? null : writeCursor({ sort, side, key: row.name, ties: [row.id] });
  return {
    items: here.map((row) => describe(work, row)),
    total: Math.min(count, COUNTED_AT_MOST),
    totalIsLeast: count > COUNTED_AT_MOST,
    next: back || isMore ? place(here.at(-1), 'after') : null,
    previous: (back ? isMore : cursor !== null) ? place(here[0], 'before') : null,
  };
}

/** One of the people at the actor's clinics. */
export async function findPerson(work: Work, id: string): Promise<PersonSummary | null> {
  const memberships = { some: { clinicId: { in: [...work.actor.clinicIds] } } };
  const row = await work.tx.person.findFirst({ where: { id, memberships }, include: around });
  return row === null ? null : describe(work, row);
}

function conditions({ actor }: Work, { q, state, clinicId }: ListQuery): Prisma.PersonWhereInput {
  const asked = roles.filter((role) => state?.split(',').includes(role));
  const at = actor.clinicIds.filter((id) => clinicId === undefined || id === clinicId);
  const holds = { contains: q ?? '', mode: 'insensitive' } as const;
  return {
    memberships: { some: { clinicId: { in: at } } },
    ...(asked.length > 0 && { role: { in: asked } }),
    ...(q && { OR: [{ name: holds }, { email: holds }] }),
  };
}

/** Those who stand after the cursor's row in the order in which they are read. */
function beyond({ key, ties }: Cursor, sort: 'name' | 'recent', falling: boolean): Prisma.PersonWhereInput {
  const than = (value: string) => (falling ? { lt: value } : { gt: value });
  const id = than(ties[0] ?? '');
  if (sort === 'recent') return { id };
  const name = String(key);
  return { OR: [{ name: than(name) }, { name, id }] };
}

function describe({ actor, now }: Work, person: Row): PersonSummary {
  return {
    id: person.id,
    name: person.name,
    email: person.email,
    role: person.role,
    clinics: person.memberships.map(({ clinic }) => clinic).filter(({ id }) => actor.clinicIds.includes(id)),
    active: person.activeUntil === null || person.activeUntil > now,
    secondFactor: person.totpConfirmedAt !== null,
  };
}

/** Names of people by identifier, for showing who did a thing. */
export async function namesOf({ tx }: Work, personIds: readonly string[]): Promise<Map<string, string>> {
  const people = await tx.person.findMany({
    where: { id: { in: [...new Set(personIds)] } },
    select: { id: true, name: true },
  });
  return new Map(people.map(({ id, name }) => [id, name]));
}

/** What the network's clinics are called: words that everybody here would guess first. */
export async function clinicNames({ tx }: Work): Promise<string[]> {
  return (await tx.clinic.findMany({ select: { name: true } })).map(({ name }) => name);
}
