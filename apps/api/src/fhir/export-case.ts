import { readIdentity } from '../cases/read-identity.js';
import type { Work } from '../platform/work.js';
import { caseToExport, type CaseToExport } from './fhir.queries.js';
import { mapLens } from './map-lens.js';
import { mapMeasurements } from './map-measurement.js';
import { mapOperation } from './map-operation.js';
import { mapOrder } from './map-order.js';
import { mapPatient } from './map-patient.js';
import { urnOf, uuidOf } from './parts.js';

export const fhirMediaType = 'application/fhir+json';

/**
 * A case as a FHIR R4 collection, under a pseudonym. By name only for who may see the identity, and that is recorded.
 * @throws DomainError `case.missing`, `person.not-permitted`, `patient.no-identity`.
 */
export async function exportCase(work: Work, caseId: string, withIdentity: boolean) {
  const facts = await caseToExport(work, caseId);
  const identity = withIdentity ? await readIdentity(work, caseId) : null;
  return { bundle: bundleOf({ ...facts, identity }, work.now), fileName: `${facts.row.code}.fhir.json` };
}

/** The bundle of what is known, without the notes that people wrote: those may name the patient. */
export function bundleOf(facts: CaseToExport, at: Date) {
  const resources = [
    mapPatient(facts),
    ...facts.lenses.map((unit) => mapLens(facts, unit)),
    ...facts.orders.flatMap((order) => mapOrder(facts, order)),
    ...facts.row.implantations.flatMap((operation) => mapOperation(facts, operation)),
    ...mapMeasurements(facts.row),
  ];
  return {
    resourceType: 'Bundle',
    id: uuidOf(facts.row.id, 'bundle'),
    type: 'collection',
    timestamp: at.toISOString(),
    entry: resources.map((resource) => ({ fullUrl: urnOf(resource.id), resource })),
  };
}
