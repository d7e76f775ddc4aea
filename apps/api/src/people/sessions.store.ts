import { createHash, randomBytes } from 'node:crypto';
import type { CurrentSession, SessionSummary } from '@lensferry/contracts';
import { rolesWithSecondFactor, type Role } from '@lensferry/domain';
import type { Database } from '../platform/database.js';
import { Prisma } from '../platform/prisma-client/client.js';
import type { Actor, Work } from '../platform/work.js';

export const idleMinutes = 60;
const absoluteHours = 12;

/** Who looks up sessions: nobody yet, so no clinic's data is in sight. */
export const nobody: Actor = { kind: 'worker', personId: null, name: 'sign-in', clinicIds: [] };

const hashOf = (token: string): string => createHash('sha256').update(token).digest('hex');

/** Opens a session and gives its token, which only the browser keeps. */
export async function openSession(
  work: Work,
  personId: string,
  device: string,
): Promise<{ token: string; expiresAt: Date }> {
  const token = randomBytes(32).toString('base64url');
  const expiresAt = new Date(work.now.getTime() + absoluteHours * 3_600_000);
  await work.tx.session.create({
    data: {
      tokenHash: hashOf(token),
      personId,
      device: device.slice(0, 200),
      createdAt: work.now,
      lastSeenAt: work.now,
      expiresAt,
    },
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

const idleEnd = (lastSeenAt: Date): Date => new Date(lastSeenAt.getTime() + idleMinutes * 60_000);

/** Somebody signed in, and whether the account has a second factor. */
export interface FoundSession {
  readonly actor: Actor;
  readonly tokenHash: string;
  readonly secondFactor: boolean;
}

/** The person behind a session's token, or null when it has ended, was idle too long, or the person has left. */
export const findSession = (database: Database, token: string): Promise<FoundSession | null> =>
  findByHash(database, hashOf(token), true);

interface SessionRow {
  readonly lastSeenAt: Date;
  readonly expiresAt: Date;
  readonly personId: string;
  readonly name: string;
  readonly role: Role;
  readonly activeUntil: Date | null;
  readonly secondFactor: boolean;
  readonly clinicIds: string[];
}

/** The same by the token's hash; `using` says whether it counts as being used. Asked with every request, so in one go. */
export async function findByHash(
  database: Database,
  tokenHash: string,
  using: boolean,
): Promise<FoundSession | null> {
  const now = database.clock.now();
  const [session] = await database.ask<SessionRow>(Prisma.sql`
    select s.last_seen_at as "lastSeenAt", s.expires_at as "expiresAt", p.id as "personId", p.name, p.role::text as role,
      p.active_until as "activeUntil", p.totp_confirmed_at is not null as "secondFactor",
      array(select m.clinic_id::text from clinic_member m where m.person_id = p.id order by m.clinic_id) as "clinicIds"
    from session s join person p on p.id = s.person_id where s.token_hash = ${tokenHash}`);
  if (session === undefined || session.expiresAt <= now || idleEnd(session.lastSeenAt) < now) return null;
  if (session.activeUntil !== null && session.activeUntil <= now) return null;
  if (using && now.getTime() - session.lastSeenAt.getTime() > 60_000)
    await database.work(nobody, ({ tx }) =>
      tx.session.updateMany({ where: { tokenHash }, data: { lastSeenAt: now } }),
    );
  const { role: kind, personId, name, clinicIds, secondFactor } = session;
  return { tokenHash, secondFactor, actor: { kind, personId, name, clinicIds } };
}

/** Whether this installation lets a person of this role do nothing before a second factor is set up. */
export const needsSecondFactor = (required: boolean, role: string, has: boolean): boolean =>
  required && !has && rolesWithSecondFactor.includes(role as Role);

export async function endSession(work: Work, tokenHash: string): Promise<void> {
  const { count } = await work.tx.session.deleteMany({ where: { tokenHash } });
  if (count > 0) await tellEnded(work, { tokenHash });
}

/** Ends sessions of a person, all or one of them, but never `except`; their live updates end with them. */
export async function endSessionsOf(
  work: Work,
  personId: string,
  { id, except }: { id?: string; except?: string } = {},
): Promise<number> {
  const ending = await work.tx.session.findMany({
    where: { personId, ...(id === undefined ? {} : { id }), NOT: { tokenHash: except ?? '' } },
    select: { tokenHash: true },
  });
  for (const { tokenHash } of ending) await endSession(work, tokenHash);
  return ending.length;
}

/** Heard by every process that holds a browser's stream; a hash of a token opens nothing. */
async function tellEnded({ tx }: Work, ended: { tokenHash: string }): Promise<void> {
  await tx.$executeRaw`select pg_notify('lensferry_ended', ${JSON.stringify(ended)})`;
}

/** The sessions of a person that have not ended, the latest used first. */
export async function listSessions(
  { tx, now }: Work,
  personId: string,
  current: string | null,
): Promise<SessionSummary[]> {
  const rows = await tx.session.findMany({
    where: {
      personId,
      expiresAt: { gt: now },
      lastSeenAt: { gt: new Date(now.getTime() - idleMinutes * 60_000) },
    },
    orderBy: { lastSeenAt: 'desc' },
  });
  return rows.map(({ id, device, createdAt, lastSeenAt, expiresAt, tokenHash }) => ({
    id,
    device,
    startedAt: createdAt.toISOString(),
    lastSeenAt: lastSeenAt.toISOString(),
    idleEndsAt: idleEnd(lastSeenAt).toISOString(),
    expiresAt: expiresAt.toISOString(),
    current: tokenHash === current,
  }));
}

/** What the browser is told of its session. */
export async function describeSession(
  work: Work,
  tokenHash: string,
  settings: { LENSFERRY_DEMO: boolean; REQUIRE_SECOND_FACTOR: boolean },
): Promise<CurrentSession> {
  const { person, expiresAt } = await work.tx.session.findUniqueOrThrow({
    where: { tokenHash },
    include: withPerson,
  });
  const has = person.totpConfirmedAt !== null;
  const needed = needsSecondFactor(settings.REQUIRE_SECOND_FACTOR, person.role, has);
  return {
    person: { id: person.id, name: person.name, email: person.email, role: person.role },
    clinics: person.memberships.map(({ clinic }) => clinic).sort((a, b) => a.name.localeCompare(b.name)),
    expiresAt: expiresAt.toISOString(),
    idleMinutes,
    secondFactor: has ? 'on' : needed ? 'needed' : 'off',
    now: work.now.toISOString(),
    demo: settings.LENSFERRY_DEMO,
  };
}

export { hashOf as sessionHash };
