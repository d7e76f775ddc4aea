import { PatientIdentity } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import type { Work } from '../platform/work.js';
import { loadCase } from './cases.store.js';
import { identityPurpose } from './open-case.js';

export const noIdentity = (): DomainError =>
  new DomainError('missing', 'patient.no-identity', 'No identity was entered for this patient.');
export const identityErased = (): DomainError =>
  new DomainError(
    'missing',
    'patient.erased',
    'The identity of this patient was erased and can’t be had again; the history says when and why.',
  );

/** Opens a patient's identity; each look goes on the record. */
export async function readIdentity(work: Work, caseId: string): Promise<PatientIdentity> {
  work.need('case.identity');
  const row = await loadCase(work, caseId);
  const identity = await work.tx.patientIdentity.findFirst({
    where: { clinicId: row.clinicId, patientId: row.patientId },
  });
  if (identity === null) throw noIdentity();
  if (identity.erasedAt !== null) throw identityErased();
  work.record({ clinicId: row.clinicId, action: 'case.identity', caseId });
  return PatientIdentity.parse(JSON.parse(work.box.open(identity.sealed, identityPurpose(row.patientId))));
}
