import type { SubjectExport } from '@lensferry/contracts';
import type { Work } from '../platform/work.js';
import { loadCase } from './cases.store.js';
import { readIdentity } from './read-identity.js';
import { showCase } from './show-case.js';

/**
 * Everything that is held about a patient at a clinic, to be handed to that person: who it is, both eyes, and who
 * looked at the identity. It goes on the record.
 * @throws DomainError `case.missing`, `person.not-permitted`.
 */
export async function exportSubject(work: Work, caseId: string): Promise<SubjectExport> {
  work.need('case.export-subject');
  const row = await loadCase(work, caseId);
  const { clinicId, patientId } = row;
  const kept = await work.tx.patientIdentity.findFirst({ where: { clinicId, patientId } });
  const identity = kept === null || kept.erasedAt !== null ? null : await readIdentity(work, caseId);
  const eyes = await work.tx.eyeCase.findMany({ where: { clinicId, patientId }, orderBy: { code: 'asc' } });
  const cases = [];
  for (const { id } of eyes) {
    // What the screens offer and compute anew is nothing that is held.
    const { offers: _o, unable: _u, actions: _a, proposal: _p, ...held } = await showCase(work, id);
    cases.push(held);
    work.record({ clinicId, action: 'case.export-subject', caseId: id });
  }
  const looks = await work.tx.auditEntry.findMany({
    where: { clinicId, caseId: { in: eyes.map(({ id }) => id) }, action: 'case.identity' },
    orderBy: { seq: 'asc' },
  });
  return {
    madeAt: work.now.toISOString(),
    madeBy: work.actor.name,
    clinic: cases[0]!.clinic.name,
    codeName: row.patient.codeName,
    birthYear: row.patient.birthYear,
    identity,
    identityErasedAt: kept?.erasedAt?.toISOString() ?? null,
    looks: looks.map(({ at, actorName }) => ({ at: at.toISOString(), by: actorName })),
    cases,
  };
}
