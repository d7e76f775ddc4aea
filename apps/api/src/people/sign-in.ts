import { HttpException } from '@nestjs/common';
import type { SignIn } from '@lensferry/contracts';
import { v7 as uuid } from 'uuid';
import type { Database } from '../platform/database.js';
import { hashOfNobody, isPassword } from './passwords.js';
import { nobody, openSession } from './sessions.store.js';

const failuresAllowed = 5;
const withinMinutes = 15;

/**
 * Opens a session for the right e-mail and password.
 * @throws HttpException 401 without saying which of the two was wrong; 429 after five failures in fifteen minutes.
 */
export async function signIn(database: Database, input: SignIn): Promise<{ token: string; expiresAt: Date }> {
  const email = input.email.toLowerCase();
  const person = await database.work(nobody, async ({ tx, now }) => {
    const since = new Date(now.getTime() - withinMinutes * 60_000);
    const failures = await tx.signInAttempt.count({ where: { email, failed: true, at: { gte: since } } });
    if (failures >= failuresAllowed)
      throw new HttpException(
        `Too many failed sign-ins for this account; try again in ${withinMinutes} minutes.`,
        429,
      );
    return tx.person.findUnique({ where: { email } });
  });
  const right = await isPassword(person?.passwordHash ?? (await hashOfNobody()), input.password);
  const left = person === null || (person.activeUntil !== null && person.activeUntil <= database.clock.now());
  const failed = !right || left;
  return database
    .work(nobody, async (work) => {
      await work.tx.signInAttempt.create({ data: { id: uuid(), email, at: work.now, failed } });
      return failed ? null : openSession(work, person.id);
    })
    .then((session) => {
      if (session === null) throw new HttpException('E-mail or password is not right.', 401);
      return session;
    });
}
