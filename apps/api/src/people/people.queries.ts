import type { PersonSummary } from '@lensferry/contracts';
import type { Work } from '../platform/work.js';

/** Everybody at the actor's clinics, by name. */
export async function listPeople({ tx, actor, now }: Work): Promise<PersonSummary[]> {
  const people = await tx.person.findMany({
    where: { memberships: { some: { clinicId: { in: [...actor.clinicIds] } } } },
    include: {
      memberships: { include: { clinic: { select: { id: true, code: true, name: true, timeZone: true } } } },
    },
    orderBy: { name: 'asc' },
  });
  return people.map((person) => ({
    id: person.id,
    name: person.name,
    email: person.email,
    role: person.role,
    clinics: person.memberships.map(({ clinic }) => clinic).filter(({ id }) => actor.clinicIds.includes(id)),
    active: person.activeUntil === null || person.activeUntil > now,
    secondFactor: person.totpConfirmedAt !== null,
  }));
}

/** Names of people by identifier, for showing who did a thing. */
export async function namesOf({ tx }: Work, personIds: readonly string[]): Promise<Map<string, string>> {
  const people = await tx.person.findMany({
    where: { id: { in: [...new Set(personIds)] } },
    select: { id: true, name: true },
  });
  return new Map(people.map(({ id, name }) => [id, name]));
}
