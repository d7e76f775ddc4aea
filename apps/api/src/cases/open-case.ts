import type { OpenCase } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import { v7 as uuid } from 'uuid';
import { nextNumber } from '../platform/counters.js';
import type { Work } from '../platform/work.js';

/** The purpose that identities are sealed for. */
export const identityPurpose = (patientId: string): string => `patient-identity:${patientId}`;

/**
 * Opens a case for one eye; the patient is made with it unless the code name is already known at the clinic.
 * @throws DomainError `clinic.not-yours`, `case.surgeon`, `case.exists`.
 */
export async function openCase(work: Work, input: OpenCase): Promise<string> {
  work.need('case.open');
  const { tx, now } = work;
  const { clinicId, eye } = input;
  if (!work.actor.clinicIds.includes(clinicId))
    throw new DomainError('missing', 'clinic.not-yours', 'There is no such clinic among yours.', {}, [
      { pointer: '/clinicId', message: 'Choose one of your clinics.' },
    ]);
  await requireSurgeon(work, clinicId, input.surgeonId);
  const patient = await findOrMakePatient(work, input);
  const taken = await tx.eyeCase.findFirst({ where: { clinicId, patientId: patient.id, eye } });
  if (taken !== null)
    throw new DomainError('conflict', 'case.exists', `There is already a case for this eye: ${taken.code}.`, {
      code: taken.code,
    });
  const clinic = await tx.clinic.findUniqueOrThrow({ where: { id: clinicId } });
  const number = await nextNumber(work, clinicId, 'case');
  const id = uuid();
  const code = `${clinic.code}-${String(number).padStart(4, '0')}${eye === 'OD' ? 'R' : 'L'}`;
  await tx.eyeCase.create({
    data: {
      clinicId,
      id,
      code,
      patientId: patient.id,
      eye,
      surgeonId: input.surgeonId,
      stage: 'assessing',
      stageSince: now,
      awaited: 'measurements',
      openedAt: now,
    },
  });
  work.record({ clinicId, action: 'case.open', caseId: id, facts: { code, eye } });
  return id;
}

async function requireSurgeon({ tx }: Work, clinicId: string, surgeonId: string): Promise<void> {
  const surgeon = await tx.person.findFirst({
    where: { id: surgeonId, role: 'surgeon', memberships: { some: { clinicId } } },
  });
  if (surgeon === null)
    throw new DomainError('invalid', 'case.surgeon', 'Choose a surgeon of this clinic.', {}, [
      { pointer: '/surgeonId', message: 'Choose a surgeon of this clinic.' },
    ]);
}

async function findOrMakePatient(work: Work, input: OpenCase): Promise<{ id: string }> {
  const { tx, now, box } = work;
  const { clinicId, codeName, birthYear, identity } = input;
  if (birthYear > now.getUTCFullYear())
    throw new DomainError(
      'invalid',
      'patient.birth-year',
      'The year of birth lies in the future.',
      { birthYear },
      [{ pointer: '/birthYear', message: 'The year of birth lies in the future.' }],
    );
  const known = await tx.patient.findFirst({ where: { clinicId, codeName } });
  if (known !== null) {
    if (known.birthYear === birthYear) return known;
    throw new DomainError(
      'conflict',
      'patient.code-name',
      `${codeName} is another patient here; choose another code name.`,
      {},
      [{ pointer: '/codeName', message: 'Another patient has this code name.' }],
    );
  }
  const id = uuid();
  await tx.patient.create({ data: { clinicId, id, codeName, birthYear } });
  if (identity !== undefined)
    await tx.patientIdentity.create({
      data: { clinicId, patientId: id, sealed: box.seal(JSON.stringify(identity), identityPurpose(id)) },
    });
  return { id };
}
