import type { EraseIdentity } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import { requireSigner } from '../orders/sign-order.js';
import type { Work } from '../platform/work.js';
import { loadCase } from './cases.store.js';
import { identityErased, noIdentity } from './read-identity.js';

/** What the signature under an erasure means; it stands in the record with the signer's name and the time. */
export const erasureMeaning =
  'I have checked that this patient’s identity is to be erased; the record of the device stays, under its code name.';

/**
 * Erases who a patient is, for both eyes. Code name, year of birth and everything about the device stay: serial, lot,
 * implantation and the facts of the case, which those who answer for the device must keep.
 * @throws DomainError `person.not-permitted`, `patient.no-identity`, `patient.erased`, `person.password`.
 */
export async function eraseIdentity(work: Work, caseId: string, input: EraseIdentity): Promise<void> {
  work.need('case.erase-identity');
  const { clinicId, patientId } = await loadCase(work, caseId);
  const identity = await work.tx.patientIdentity.findFirst({ where: { clinicId, patientId } });
  if (identity === null) throw noIdentity();
  if (identity.erasedAt !== null) throw identityErased();
  await requireSigner(work, input.password);
  const { count } = await work.tx.patientIdentity.updateMany({
    where: { clinicId, patientId, erasedAt: null },
    data: { sealed: '', erasedAt: work.now },
  });
  if (count === 0)
    throw new DomainError(
      'conflict',
      'patient.erased',
      'Somebody else has erased this identity a moment ago.',
    );
  const cases = await work.tx.eyeCase.findMany({ where: { clinicId, patientId }, orderBy: { code: 'asc' } });
  // On each eye's history, so that nobody looks for a name that is gone.
  for (const { id, code } of cases)
    work.record({
      clinicId,
      action: 'case.erase-identity',
      caseId: id,
      facts: { code, meaning: erasureMeaning },
      why: input.why,
    });
}
