import type { OutcomeQuery } from '@lensferry/contracts';
import { smallGroups } from '../outcomes/de-identify.js';
import { readOperatedEyes } from '../outcomes/operated-eyes.queries.js';
import { selectEyes } from '../outcomes/select-eyes.js';
import { minimumDaysOf } from '../outcomes/show-report.js';
import type { Work } from '../platform/work.js';
import { fhirMediaType } from './export-case.js';
import { mapEye, mapUnnamedPatient } from './map-eye.js';
import { urnOf } from './parts.js';

export { fhirMediaType };

/**
 * The eyes of a question as one FHIR R4 collection that names nobody: patients under a pseudonym that stays the same,
 * their days moved together, groups that are too small without their names. What people wrote is not in it. Each
 * export is recorded.
 */
export async function exportEyesAsFhir(work: Work, query: OutcomeQuery) {
  const eyes = selectEyes(await readOperatedEyes(work), query);
  const hidden = smallGroups(eyes);
  const fromDay = minimumDaysOf(query.minimumMonths);
  const followed = eyes.filter(({ outcome }) => outcome.visits.some(({ daysAfter }) => daysAfter >= fromDay));
  const patients = [...new Map(followed.map((eye) => [eye.patientId, eye])).values()];
  const resources = [
    ...patients.map(mapUnnamedPatient),
    ...followed.flatMap((eye) => mapEye(eye, hidden)),
    // Not in the order in which people came.
  ].sort((a, b) => a.id.localeCompare(b.id));
  for (const clinicId of new Set(followed.map(({ clinic }) => clinic.id)))
    work.record({
      clinicId,
      action: 'outcome.export',
      facts: {
        identified: false,
        as: 'fhir',
        eyes: followed.filter(({ clinic }) => clinic.id === clinicId).length,
      },
    });
  return {
    resourceType: 'Bundle',
    type: 'collection',
    // A list without anything in it is none in FHIR.
    ...(resources.length === 0
      ? {}
      : { entry: resources.map((resource) => ({ fullUrl: urnOf(resource.id), resource })) }),
  };
}
