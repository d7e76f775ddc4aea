import type { PlanResult, SignOrder } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import { v7 as uuid } from 'uuid';
import { isPassword } from '../people/passwords.js';
import { canonicalHash } from '../platform/audit.js';
import type { Work } from '../platform/work.js';
import { offsetInWords } from '../plans/offset-in-words.js';
import { stopsOf } from '../plans/plans.store.js';
import { loadOrderAt, takeStep } from './orders.store.js';

/** What a signature means, as it stands on screen and paper. */
const signatureMeaning = 'I have read this specification and approve that this lens be made for this eye.';

/**
 * Signs an order's specification. The signature binds to the hash of its canonical JSON as it was shown.
 * @throws DomainError `order.not-what-was-shown`, `person.password`, `order.reason-needed`.
 */
export async function signOrder(work: Work, orderId: string, input: SignOrder): Promise<void> {
  const order = await loadOrderAt(work, orderId, input.version);
  const hash = requireShown(order.specification, order.specificationHash, input);
  const reasons = await requireReasons(work, order, input);
  await takeStep(work, order, 'sign', {
    data: { note: null },
    facts: { specificationHash: hash, meaning: await meaningOf(work, order.planId), reasons },
  });
  const signer = await requireSigner(work, input.password);
  await keepSignature(work, order, order.planId, {
    specificationHash: hash,
    signerId: signer.id,
    signerName: signer.name,
    reasons,
    signedAt: work.now,
  });
}

/** What was signed, by whom, when, and over which stops. */
export interface Signed {
  readonly specificationHash: string;
  readonly signerId: string;
  readonly signerName: string;
  readonly reasons: Record<string, string>;
  readonly signedAt: Date;
}

/** What signing the lens of a plan means; a learned offset that it was planned with is part of it. */
export async function meaningOf({ tx }: Work, planId: string): Promise<string> {
  const plan = await tx.plan.findFirstOrThrow({ where: { id: planId } });
  const { offset } = plan.result as unknown as Pick<PlanResult, 'offset'>;
  return offset ? `${signatureMeaning} ${offsetInWords(offset, plan.number)}` : signatureMeaning;
}

/** Puts a signature beside its order, with what signing the lens of that plan means; it stands until it is voided. */
export async function keepSignature(
  work: Work,
  order: { clinicId: string; id: string },
  planId: string,
  signed: Signed,
): Promise<void> {
  const meaning = await meaningOf(work, planId);
  await work.tx.signature.create({
    data: { ...signed, clinicId: order.clinicId, id: uuid(), orderId: order.id, meaning },
  });
}

/** @throws DomainError `order.not-what-was-shown` unless the signer read exactly what stands. */
export function requireShown(specification: unknown, kept: string, input: SignOrder): string {
  const hash = canonicalHash(specification);
  if (hash === input.specificationHash && hash === kept) return hash;
  throw new DomainError(
    'conflict',
    'order.not-what-was-shown',
    'The specification is not the one you were shown; reload and read it again.',
    { shown: input.specificationHash, stands: hash },
  );
}

/** @throws DomainError `order.reason-needed` for the first stop that the signer gives no reason for. */
export async function requireReasons(
  work: Work,
  of: { planId: string },
  input: SignOrder,
): Promise<Record<string, string>> {
  const reasons: Record<string, string> = {};
  for (const stop of await stopsOf(work, of)) {
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
  return reasons;
}

/** The person who signs, by the password once more. @throws DomainError `person.password`. */
export async function requireSigner(work: Work, password: string): Promise<{ id: string; name: string }> {
  const signer = await work.tx.person.findUniqueOrThrow({ where: { id: work.personId } });
  if (await isPassword(signer.passwordHash, password)) return signer;
  throw new DomainError('invalid', 'person.password', 'This is not your password; nothing was signed.', {}, [
    { pointer: '/password', message: 'This is not your password.' },
  ]);
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
