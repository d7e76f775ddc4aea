import { HttpException } from '@nestjs/common';
import { DomainError } from '@lensferry/domain';
import { v7 as uuid } from 'uuid';
import type { Database } from '../platform/database.js';
import type { Actor, Work } from '../platform/work.js';
import { nobody } from './sessions.store.js';

const failuresAllowed = 5;
const withinMinutes = 15;

/** @throws HttpException 429 after five failures of this account in fifteen minutes. */
export async function requirePatience({ tx, now }: Work, account: string): Promise<void> {
  const since = new Date(now.getTime() - withinMinutes * 60_000);
  const failures = await tx.signInAttempt.count({
    where: { email: account, failed: true, at: { gte: since } },
  });
  if (failures >= failuresAllowed)
    throw new HttpException(
      `Too many failures for this account; try again in ${withinMinutes} minutes.`,
      429,
    );
}

export async function noteAttempt({ tx, now }: Work, account: string, failed: boolean): Promise<void> {
  await tx.signInAttempt.create({ data: { id: uuid(), email: account, at: now, failed } });
}

/**
 * Runs what asks for the password or a code once more. A wrong one counts against the person, apart from signing in,
 * so that a session left open is no place to guess. The failed attempt is written down though the use case is undone.
 */
export async function withPassword<T>(
  database: Database,
  me: Actor,
  useCase: (work: Work) => Promise<T>,
): Promise<T> {
  const account = `again:${me.personId ?? ''}`;
  await database.work(nobody, (work) => requirePatience(work, account));
  try {
    return await database.work(me, useCase);
  } catch (error) {
    if (error instanceof DomainError && ['person.password', 'person.code'].includes(error.code))
      await database.work(nobody, (work) => noteAttempt(work, account, true));
    throw error;
  }
}
