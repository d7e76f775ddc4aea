import type { CaseToExport } from './fhir.queries.js';
import { identifier, ownIdentifier, type Resource } from './parts.js';

/** The patient: a code name and a year of birth, or by name where the identity was asked for. */
export function mapPatient({ row, identity }: CaseToExport): Resource {
  const { id, codeName, birthYear } = row.patient;
  const pseudonym = { use: 'anonymous', text: codeName };
  if (identity === null)
    return {
      resourceType: 'Patient',
      id,
      // The label is from memory: pseudonymised.
      meta: {
        security: [{ system: 'http://terminology.hl7.org/CodeSystem/v3-ObservationValue', code: 'PSEUDED' }],
      },
      identifier: [ownIdentifier(id)],
      name: [pseudonym],
      birthDate: String(birthYear),
    };
  return {
    resourceType: 'Patient',
    id,
    identifier: [
      ownIdentifier(id),
      ...(identity.recordNumber ? [identifier(row.clinicId, 'record number', identity.recordNumber)] : []),
    ],
    name: [{ use: 'official', text: identity.name }, pseudonym],
    birthDate: identity.birthDate,
  };
}
