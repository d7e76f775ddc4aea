import type { ChangeMembership } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import type { Work } from '../platform/work.js';
import { clearSecondFactor, recordPerson } from './account.store.js';
import { endSessionsOf } from './sessions.store.js';

const personMissing = () =>
  new DomainError('missing', 'person.missing', 'There is no such person at your clinics.');

/** A person all of whose clinics are the administrator's: nobody changes what another network's clinic relies on. */
async function loadManaged(work: Work, personId: string) {
  work.need('people.manage');
  const person = await work.tx.person.findUnique({ where: { id: personId }, include: { memberships: true } });
  const mine = (clinicId: string): boolean => work.actor.clinicIds.includes(clinicId);
  if (person === null || !person.memberships.some(({ clinicId }) => mine(clinicId))) throw personMissing();
  if (!person.memberships.every(({ clinicId }) => mine(clinicId)))
    throw new DomainError(
      'forbidden',
      'person.elsewhere-too',
      'This person works at a clinic that is not yours as well; ask its administrator.',
    );
  return person;
}

/** @throws DomainError `clinic.not-yours` when one of the clinics is not the administrator's. */
export function requireOwnClinics(work: Work, clinicIds: readonly string[]): void {
  if (clinicIds.every((id) => work.actor.clinicIds.includes(id))) return;
  throw new DomainError('missing', 'clinic.not-yours', 'There is no such clinic among yours.', {}, [
    { pointer: '/clinicIds', message: 'Choose among your clinics.' },
  ]);
}

/** Locked, so that two administrators can't turn each other out at the same moment. */
async function requireAnotherAdministrator(work: Work, personId: string): Promise<void> {
  await work.tx.$queryRaw`select id from person where role = 'administrator' order by id for update`;
  const others = await work.tx.person.count({
    where: {
      role: 'administrator',
      id: { not: personId },
      OR: [{ activeUntil: null }, { activeUntil: { gt: work.now } }],
      memberships: { some: { clinicId: { in: [...work.actor.clinicIds] } } },
    },
  });
  if (others === 0)
    throw new DomainError(
      'refused',
      'person.last-administrator',
      'This is the last administrator; make another one first.',
    );
}

/** Somebody leaves: from this moment no session, no live update and no signing in. What they did stays on record. */
export async function deactivatePerson(work: Work, personId: string, why: string): Promise<void> {
  const person = await loadManaged(work, personId);
  if (person.activeUntil !== null && person.activeUntil <= work.now)
    throw new DomainError('conflict', 'person.left-already', 'This person has left already.');
  if (person.role === 'administrator') await requireAnotherAdministrator(work, personId);
  await work.tx.person.update({ where: { id: personId }, data: { activeUntil: work.now } });
  const ended = await endSessionsOf(work, personId);
  await work.tx.invitation.updateMany({
    where: { personId, usedAt: null, withdrawnAt: null },
    data: { withdrawnAt: work.now },
  });
  await recordPerson(work, personId, 'person.deactivate', { sessionsEnded: ended }, why);
}

/** Somebody comes back. */
export async function reactivatePerson(work: Work, personId: string, why: string): Promise<void> {
  const person = await loadManaged(work, personId);
  if (person.activeUntil === null)
    throw new DomainError('conflict', 'person.here', 'This person has not left.');
  await work.tx.person.update({ where: { id: personId }, data: { activeUntil: null } });
  await recordPerson(work, personId, 'person.reactivate', {}, why);
}

/** Another role or other clinics; the sessions end, so that nothing of the old place is left on a screen. */
export async function changeMembership(work: Work, personId: string, input: ChangeMembership): Promise<void> {
  const person = await loadManaged(work, personId);
  requireOwnClinics(work, input.clinicIds);
  if (person.role === 'administrator' && input.role !== 'administrator')
    await requireAnotherAdministrator(work, personId);
  const before = person.memberships.map(({ clinicId }) => clinicId).sort();
  const after = [...new Set(input.clinicIds)].sort();
  const facts = { role: { before: person.role, after: input.role }, clinicIds: { before, after } };
  await recordPerson(work, personId, 'person.change-place', facts, input.why);
  await work.tx.person.update({ where: { id: personId }, data: { role: input.role } });
  await work.tx.clinicMember.deleteMany({ where: { personId, clinicId: { notIn: after } } });
  await work.tx.clinicMember.createMany({
    data: after.filter((id) => !before.includes(id)).map((clinicId) => ({ clinicId, personId })),
  });
  for (const clinicId of after.filter((id) => !before.includes(id)))
    work.record({
      clinicId,
      action: 'person.change-place',
      facts: { person: person.name, personId, ...facts },
      why: input.why,
    });
  await endSessionsOf(work, personId);
}

/** Ends every session of a person. */
export async function endTheirSessions(work: Work, personId: string): Promise<void> {
  await loadManaged(work, personId);
  const ended = await endSessionsOf(work, personId);
  await recordPerson(work, personId, 'person.end-sessions', { sessionsEnded: ended });
}

/** For who lost the authenticator and the recovery codes; their sessions end. */
export async function resetSecondFactor(work: Work, personId: string, why: string): Promise<void> {
  await loadManaged(work, personId);
  await clearSecondFactor(work, personId);
  await endSessionsOf(work, personId);
  await recordPerson(work, personId, 'person.reset-second-factor', {}, why);
}

export { loadManaged };
