import { HttpException } from '@nestjs/common';
import type { SignIn } from '@lensferry/contracts';
import type { Database } from '../platform/database.js';
import { codeNeeded } from '../platform/own-header.js';
import { hashOfNobody, isPassword } from './passwords.js';
import { takeCode } from './second-factor.store.js';
import { nobody, openSession } from './sessions.store.js';
import { accountOfAddress, noteAttempt, requirePatience, requirePatienceFrom } from './throttle.js';

/**
 * Opens a session for the right e-mail and password, and the right code where the account has a second factor.
 * @throws HttpException 401 without saying which was wrong, or that a code is needed; 429 after five failures of the
 * account, or fifty from the address, in fifteen minutes.
 */
export async function signIn(
  database: Database,
  input: SignIn,
  { device, address }: { device: string; address: string },
): Promise<{ token: string; expiresAt: Date }> {
  const email = input.email.toLowerCase();
  const person = await database.work(nobody, async (work) => {
    await requirePatienceFrom(work, address);
    await requirePatience(work, email);
    return work.tx.person.findUnique({ where: { email } });
  });
  const right = await isPassword(person?.passwordHash ?? (await hashOfNobody()), input.password);
  const left = person === null || (person.activeUntil !== null && person.activeUntil <= database.clock.now());
  const { code } = input;
  const open = person !== null && right && !left;
  if (open && person.totpConfirmedAt !== null && code === undefined) throw new HttpException(codeNeeded, 401);
  const session = await database.work(nobody, async (work) => {
    const taken = open && (person.totpConfirmedAt === null || (await takeCode(work, person, code ?? '')));
    await noteAttempt(work, email, !taken);
    if (!taken) await noteAttempt(work, accountOfAddress(address), true);
    return taken ? openSession(work, person.id, device) : null;
  });
  if (session === null)
    throw new HttpException(
      code === undefined ? 'E-mail or password is not right.' : 'E-mail, password or code is not right.',
      401,
    );
  return session;
}
