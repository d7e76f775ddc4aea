import { createHash, randomInt } from 'node:crypto';
import type { Work } from '../platform/work.js';
import { fromBase32, stepOfCode } from './totp.js';

/** The purpose that secrets of second factors are sealed for. */
export const totpPurpose = (personId: string): string => `second-factor:${personId}`;

// No 0, O, 1, I: a code is copied by hand.
const signs = 'ABCDEFGHJKLMNPQRSTUVWXYZ23456789';
const hashOfCode = (code: string): string =>
  createHash('sha256')
    .update(code.toUpperCase().replaceAll(/[^A-Z0-9]/g, ''))
    .digest('hex');

/** Ten codes of 80 random bits, in place of those before; only their hashes are kept. */
export async function renewRecoveryCodes({ tx, now }: Work, personId: string): Promise<string[]> {
  const codes = Array.from({ length: 10 }, () =>
    Array.from({ length: 4 }, () => Array.from({ length: 4 }, () => signs[randomInt(32)]).join('')).join('-'),
  );
  await tx.recoveryCode.updateMany({ where: { personId, usedAt: null }, data: { usedAt: now } });
  await tx.recoveryCode.createMany({ data: codes.map((code) => ({ personId, codeHash: hashOfCode(code) })) });
  return codes;
}

interface Factor {
  readonly id: string;
  readonly totpSealed: string | null;
  readonly totpLastStep: number | null;
}

/**
 * Takes a code of the authenticator or a recovery code: each is taken once only, also by two requests at the same
 * moment. False for a wrong one and for one that was taken before.
 */
export async function takeCode(work: Work, person: Factor, code: string): Promise<boolean> {
  const { tx, now, box } = work;
  if (!/^\d{6}$/.test(code)) {
    const { count } = await tx.recoveryCode.updateMany({
      where: { personId: person.id, codeHash: hashOfCode(code), usedAt: null },
      data: { usedAt: now },
    });
    return count === 1;
  }
  if (person.totpSealed === null) return false;
  const step = stepOfCode(fromBase32(box.open(person.totpSealed, totpPurpose(person.id))), code, now);
  if (step === null) return false;
  const { count } = await tx.person.updateMany({
    where: { id: person.id, OR: [{ totpLastStep: null }, { totpLastStep: { lt: step } }] },
    data: { totpLastStep: step },
  });
  return count === 1;
}
