import type { SignOrder } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import { v7 as uuid } from 'uuid';
import { isPassword } from '../people/passwords.js';
import { canonicalHash } from '../platform/audit.js';
import type { Work } from '../platform/work.js';
import { stopsOf } from '../plans/plans.store.js';
import { loadOrderAt, takeStep } from './orders.store.js';

/** What a signature means, as it stands on screen and paper. */
export const signatureMeaning =
  'I have read this specification and approve that this lens be made for this eye.';

/**
 * Signs an order's specification. The signature binds to the hash of its canonical JSON as it was shown.
 * @throws DomainError `order.not-what-was-shown`, `person.password`, `order.reason-needed`.
 */
export async function signOrder(work: Work, orderId: string, input: SignOrder): Promise<void> {
  const order = await loadOrderAt(work, orderId, input.version);
  const hash = canonicalHash(order.specification);
  if (hash !== input.specificationHash || hash !== order.specificationHash)
    throw new DomainError(
      'conflict',
      'order.not-what-was-shown',
      'The specification is not the one you were shown; reload and read it again.',
      {
        shown: input.specificationHash,
        stands: hash,
      },
    );
  const reasons: Record<string, string> = {};
  for (const stop of await stopsOf(work, order)) {
    const reason = input.reasons[stop.code];
    if (reason === undefined)
      throw new DomainError(
        'refused',
        'order.reason-needed',
        `Going on over a stop asks for a written reason: ${stop.message}`,
        { code: stop.code },
        [{ pointer: `/reasons/${stop.code}`, message: 'Write why you go on.' }],
      );
    reasons[stop.code] = reason;
  }
  await takeStep(work, order, 'sign', {
    data: { note: null },
    facts: { specificationHash: hash, meaning: signatureMeaning, reasons },
  });
  const signer = await work.tx.person.findUniqueOrThrow({ where: { id: work.personId } });
  if (!(await isPassword(signer.passwordHash, input.password)))
    throw new DomainError(
      'invalid',
      'person.password',
      'This is not your password; nothing was signed.',
      {},
      [{ pointer: '/password', message: 'This is not your password.' }],
    );
  await work.tx.signature.create({
    data: {
      clinicId: order.clinicId,
      id: uuid(),
      orderId,
      specificationHash: hash,
      signerId: signer.id,
      signerName: signer.name,
      meaning: signatureMeaning,
      reasons,
      signedAt: work.now,
    },
  });
}

/** Voids the standing signature, if there is one, and says why. */
export async function voidSignature(
  work: Work,
  order: { clinicId: string; id: string },
  why: string,
): Promise<boolean> {
  const { count } = await work.tx.signature.updateMany({
    where: { clinicId: order.clinicId, orderId: order.id, voidedAt: null },
    data: { voidedAt: work.now, voidedWhy: why },
  });
  return count > 0;
}
