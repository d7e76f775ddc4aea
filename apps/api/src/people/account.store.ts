import type { ChangePassword, RecoveryCodes, SecondFactorOffer } from '@lensferry/contracts';
import { DomainError, type Role, rolesWithSecondFactor } from '@lensferry/domain';
import bwipjs from 'bwip-js/node';
import { requireSigner } from '../orders/sign-order.js';
import type { Work } from '../platform/work.js';
import { clinicNames } from './people.queries.js';
import { requireStrong } from './judge-password.js';
import { hashPassword } from './passwords.js';
import { renewRecoveryCodes, takeCode, totpPurpose } from './second-factor.store.js';
import { endSessionsOf } from './sessions.store.js';
import { newTotpSecret, totpAddress } from './totp.js';

/** Writes what somebody did to an account on the record of each clinic that the person belongs to. */
export async function recordPerson(
  work: Work,
  personId: string,
  action: string,
  facts: Record<string, unknown> = {},
  why: string | null = null,
): Promise<void> {
  const person = await work.tx.person.findUniqueOrThrow({
    where: { id: personId },
    include: { memberships: true },
  });
  for (const { clinicId } of person.memberships)
    if (work.actor.clinicIds.includes(clinicId))
      work.record({ clinicId, action, facts: { person: person.name, personId, ...facts }, why });
}

/** Chooses a new password; every other session of the person ends. */
export async function changePassword(work: Work, input: ChangePassword, session: string): Promise<void> {
  const person = await work.tx.person.findUniqueOrThrow({ where: { id: work.personId } });
  await requireSigner(work, input.password);
  requireStrong(input.newPassword, [person.name, person.email, ...(await clinicNames(work))]);
  const passwordHash = await hashPassword(input.newPassword);
  await work.tx.person.update({ where: { id: person.id }, data: { passwordHash } });
  const ended = await endSessionsOf(work, person.id, { except: session });
  await recordPerson(work, person.id, 'person.change-password', { sessionsEnded: ended });
}

/** Makes a secret for an authenticator; it counts only once a code of it was written back. */
export async function offerSecondFactor(work: Work, password: string): Promise<SecondFactorOffer> {
  const person = await work.tx.person.findUniqueOrThrow({ where: { id: work.personId } });
  await requireSigner(work, password);
  if (person.totpConfirmedAt !== null)
    throw new DomainError('conflict', 'person.second-factor-on', 'The second factor is on; remove it first.');
  const secret = newTotpSecret();
  await work.tx.person.update({
    where: { id: person.id },
    data: { totpSealed: work.box.seal(secret, totpPurpose(person.id)), totpLastStep: null },
  });
  const address = totpAddress(secret, person.email);
  return { secret, address, qrRows: qrRowsOf(address) };
}

function qrRowsOf(text: string): string[] {
  const [drawn] = bwipjs.raw({ bcid: 'qrcode', text }) as { pixs: number[]; pixx: number }[];
  if (drawn === undefined) throw new Error('The QR code could not be drawn.');
  const { pixs, pixx } = drawn;
  return Array.from({ length: pixs.length / pixx }, (_, row) =>
    pixs
      .slice(row * pixx, (row + 1) * pixx)
      .map((dot) => (dot ? '1' : '0'))
      .join(''),
  );
}

const wrongCode = (): DomainError =>
  new DomainError(
    'invalid',
    'person.code',
    'This code is not right or was used before; wait for the next one.',
    {},
    [{ pointer: '/code', message: 'This code is not right or was used before.' }],
  );

/** Turns the second factor on; every other session of the person ends. The recovery codes are shown this once. */
export async function confirmSecondFactor(work: Work, code: string, session: string): Promise<RecoveryCodes> {
  const person = await work.tx.person.findUniqueOrThrow({ where: { id: work.personId } });
  if (person.totpConfirmedAt !== null || person.totpSealed === null)
    throw new DomainError('conflict', 'person.second-factor-on', 'Nothing is being set up; begin anew.');
  if (!(await takeCode(work, person, code))) throw wrongCode();
  await work.tx.person.update({ where: { id: person.id }, data: { totpConfirmedAt: work.now } });
  await endSessionsOf(work, person.id, { except: session });
  const codes = await renewRecoveryCodes(work, person.id);
  await recordPerson(work, person.id, 'person.second-factor-on');
  return { codes };
}

/** Turns one's own second factor off, where the role and the installation leave that open. */
export async function removeSecondFactor(work: Work, password: string, required: boolean): Promise<void> {
  if (required && rolesWithSecondFactor.includes(work.actor.kind as Role))
    throw new DomainError(
      'refused',
      'person.second-factor-required',
      `As ${work.actor.kind} you need a second factor here; an administrator can reset it if your authenticator is lost.`,
    );
  await requireSigner(work, password);
  await clearSecondFactor(work, work.personId);
  await recordPerson(work, work.personId, 'person.second-factor-off');
}

/** Forgets the secret and puts the recovery codes aside. */
export async function clearSecondFactor({ tx, now }: Work, personId: string): Promise<void> {
  await tx.person.update({
    where: { id: personId },
    data: { totpSealed: null, totpConfirmedAt: null, totpLastStep: null },
  });
  await tx.recoveryCode.updateMany({ where: { personId, usedAt: null }, data: { usedAt: now } });
}
