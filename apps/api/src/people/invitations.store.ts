import { createHash, randomBytes } from 'node:crypto';
import type {
  AcceptInvitation,
  InvitationShown,
  InvitationSummary,
  InvitePerson,
  MadeInvitation,
} from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import { v7 as uuid } from 'uuid';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Actor, Work } from '../platform/work.js';
import { judgeAndHash } from './passwords.js';
import { clinicNames } from './people.queries.js';
import { loadManaged, requireOwnClinics } from './manage-people.store.js';
import { endSessionsOf } from './sessions.store.js';

const validHours = 72;
type Row = Prisma.InvitationGetPayload<object>;
const hashOf = (token: string): string => createHash('sha256').update(token).digest('hex');

const summaryOf = (row: Row): InvitationSummary => ({
  id: row.id,
  name: row.name,
  email: row.email,
  role: row.role,
  clinicIds: row.clinicIds,
  renews: row.personId !== null,
  createdAt: row.createdAt.toISOString(),
  expiresAt: row.expiresAt.toISOString(),
});

/** Invites somebody; the link is told once and works once, within 72 hours. */
export async function invitePerson(work: Work, input: InvitePerson): Promise<MadeInvitation> {
  work.need('people.manage');
  requireOwnClinics(work, input.clinicIds);
  const email = input.email.toLowerCase();
  if ((await work.tx.person.findUnique({ where: { email } })) !== null)
    throw new DomainError('conflict', 'person.exists', 'Somebody has this e-mail already.', {}, [
      { pointer: '/email', message: 'Somebody has this e-mail already.' },
    ]);
  return make(work, { ...input, email, personId: null });
}

/** A link by which somebody who is here already chooses a new password. */
export async function renewPassword(work: Work, personId: string): Promise<MadeInvitation> {
  const person = await loadManaged(work, personId);
  if (person.activeUntil !== null)
    throw new DomainError('conflict', 'person.left-already', 'This person has left.');
  const { email, name, role } = person;
  return make(work, {
    email,
    name,
    role,
    personId,
    clinicIds: person.memberships.map(({ clinicId }) => clinicId),
  });
}

/** The first invitation of a network, which nobody of it makes. */
export const inviteFirst = (work: Work, input: InvitePerson): Promise<MadeInvitation> =>
  make(work, { ...input, personId: null }, nobodyOfIt);
const nobodyOfIt = '00000000-0000-4000-8000-000000000000';

async function make(
  work: Work,
  of: InvitePerson & { personId: string | null },
  invitedBy = work.personId,
): Promise<MadeInvitation> {
  const token = randomBytes(32).toString('base64url');
  // The newest link is the only one.
  await work.tx.invitation.updateMany({
    where: { email: of.email, usedAt: null, withdrawnAt: null },
    data: { withdrawnAt: work.now },
  });
  const row = await work.tx.invitation.create({
    data: {
      ...of,
      clinicIds: [...new Set(of.clinicIds)],
      id: uuid(),
      tokenHash: hashOf(token),
      invitedBy,
      createdAt: work.now,
      expiresAt: new Date(work.now.getTime() + validHours * 3_600_000),
    },
  });
  for (const clinicId of row.clinicIds)
    work.record({
      clinicId,
      action: of.personId === null ? 'person.invite' : 'person.renew-password',
      facts: { person: of.name, role: of.role, expiresAt: row.expiresAt.toISOString() },
    });
  return { invitation: summaryOf(row), path: `/#join=${token}` };
}

const isOpen = (row: Row, now: Date): boolean =>
  row.usedAt === null && row.withdrawnAt === null && row.expiresAt > now;

/** Invitations that are still open, to the administrator's own clinics only. */
export async function listInvitations({ tx, now, actor }: Work): Promise<InvitationSummary[]> {
  const rows = await tx.invitation.findMany({
    where: { usedAt: null, withdrawnAt: null, expiresAt: { gt: now } },
    orderBy: { createdAt: 'desc' },
  });
  return rows.filter(({ clinicIds }) => clinicIds.every((id) => actor.clinicIds.includes(id))).map(summaryOf);
}

export async function withdrawInvitation(work: Work, id: string): Promise<void> {
  work.need('people.manage');
  const row = (await listInvitations(work)).find((one) => one.id === id);
  if (row === undefined)
    throw new DomainError('missing', 'invitation.missing', 'There is no such open invitation.');
  await work.tx.invitation.update({ where: { id }, data: { withdrawnAt: work.now } });
  for (const clinicId of row.clinicIds)
    work.record({ clinicId, action: 'person.withdraw-invitation', facts: { person: row.name } });
}

async function findOpen({ tx, now }: Work, token: string): Promise<Row> {
  const row = await tx.invitation.findUnique({ where: { tokenHash: hashOf(token) } });
  if (row !== null && isOpen(row, now)) return row;
  throw new DomainError(
    'missing',
    'invitation.ended',
    'This link was used or has ended; ask your administrator for a new one.',
  );
}

/** Who joins, for the record of the clinics that the invitation names. */
export async function joiningActor(work: Work, token: string): Promise<Actor> {
  const { name, clinicIds } = await findOpen(work, token);
  return { kind: 'worker', personId: null, name: `${name} (invited)`, clinicIds };
}

export async function lookAtInvitation(work: Work, token: string): Promise<InvitationShown> {
  const { name, email, role, expiresAt } = await findOpen(work, token);
  return { name, email, role, expiresAt: expiresAt.toISOString() };
}

/** Somebody chooses a password and is in; the link is spent, also for a second request at the same moment. */
export async function acceptInvitation(work: Work, input: AcceptInvitation): Promise<void> {
  const row = await findOpen(work, input.token);
  const passwordHash = await judgeAndHash(input.newPassword, [
    row.name,
    row.email,
    ...(await clinicNames(work)),
  ]);
  const { count } = await work.tx.invitation.updateMany({
    where: { id: row.id, usedAt: null, withdrawnAt: null },
    data: { usedAt: work.now },
  });
  if (count === 0) return void (await findOpen(work, input.token));
  const personId = row.personId ?? uuid();
  if (row.personId === null) {
    const { name, email, role } = row;
    await work.tx.person.create({ data: { id: personId, name, email, role, passwordHash } });
    await work.tx.clinicMember.createMany({
      data: row.clinicIds.map((clinicId) => ({ clinicId, personId })),
    });
  } else {
    await work.tx.person.update({ where: { id: personId }, data: { passwordHash } });
    await endSessionsOf(work, personId);
  }
  for (const clinicId of row.clinicIds)
    work.record({
      clinicId,
      action: row.personId === null ? 'person.join' : 'person.choose-password',
      facts: { person: row.name, personId },
    });
}
