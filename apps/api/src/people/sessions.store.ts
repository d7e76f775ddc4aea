import { createHash, randomBytes } from 'node:crypto';
import type { CurrentSession } from '@lensferry/contracts';
import type { Database } from '../platform/database.js';
import type { Actor, Work } from '../platform/work.js';

const idleMinutes = 60;
const absoluteHours = 12;

/** Who looks up sessions: nobody yet, so no clinic's data is in sight. */
export const nobody: Actor = { kind: 'worker', personId: null, name: 'sign-in', clinicIds: [] };

const hashOf = (token: string): string => createHash('sha256').update(token).digest('hex');

/** Opens a session and gives its token, which only the browser keeps. */
export async function openSession(work: Work, personId: string): Promise<{ token: string; expiresAt: Date }> {
  const token = randomBytes(32).toString('base64url');
  const expiresAt = new Date(work.now.getTime() + absoluteHours * 3_600_000);
  await work.tx.session.create({
    data: { tokenHash: hashOf(token), personId, createdAt: work.now, lastSeenAt: work.now, expiresAt },
  });
  return { token, expiresAt };
}

const withPerson = {
  person: {
    include: {
      memberships: { include: { clinic: { select: { id: true, code: true, name: true, timeZone: true } } } },
    },
  },
} as const;

/** The person behind a session's token, or null when it has ended, was idle too long, or the person has left. */
export function findSession(
  database: Database,
  token: string,
): Promise<{ actor: Actor; tokenHash: string } | null> {
  return database.work(nobody, async ({ tx, now }) => {
    const session = await tx.session.findUnique({ where: { tokenHash: hashOf(token) }, include: withPerson });
    if (session === null || session.expiresAt <= now) return null;
    if (now.getTime() - session.lastSeenAt.getTime() > idleMinutes * 60_000) return null;
    if (session.person.activeUntil !== null && session.person.activeUntil <= now) return null;
    if (now.getTime() - session.lastSeenAt.getTime() > 60_000)
      await tx.session.update({ where: { tokenHash: session.tokenHash }, data: { lastSeenAt: now } });
    const { person } = session;
    return {
      tokenHash: session.tokenHash,
      actor: {
        kind: person.role,
        personId: person.id,
        name: person.name,
        clinicIds: person.memberships.map((membership) => membership.clinicId),
      },
    };
  });
}

export async function endSession(work: Work, tokenHash: string): Promise<void> {
  await work.tx.session.deleteMany({ where: { tokenHash } });
}

/** What the browser is told of its session. */
export async function describeSession(work: Work, tokenHash: string, demo: boolean): Promise<CurrentSession> {
  const { person, expiresAt } = await work.tx.session.findUniqueOrThrow({
    where: { tokenHash },
    include: withPerson,
  });
  return {
    person: { id: person.id, name: person.name, email: person.email, role: person.role },
    clinics: person.memberships.map(({ clinic }) => clinic).sort((a, b) => a.name.localeCompare(b.name)),
    expiresAt: expiresAt.toISOString(),
    now: work.now.toISOString(),
    demo,
  };
}

export { hashOf as sessionHash };
