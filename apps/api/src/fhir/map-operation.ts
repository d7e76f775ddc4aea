import { fromDate } from '../platform/plain-date.js';
import type { CaseToExport } from './fhir.queries.js';
import { reasonOf } from './map-order.js';
import {
  bodySite,
  inWords,
  ownConcept,
  ownIdentifier,
  quantity,
  referTo,
  uuidOf,
  type Resource,
} from './parts.js';

type Implantation = CaseToExport['row']['implantations'][number];

/** A lens that went into the eye and at which axis, and that it was taken out again. */
export function mapOperation(facts: CaseToExport, operation: Implantation): Resource[] {
  const { row, names } = facts;
  const subject = referTo(row.patientId);
  const lens = referTo(operation.lensId);
  const site = bodySite(row.eye);
  const performedOn = fromDate(operation.performedOn);
  const surgeon = names.get(operation.surgeonId);
  const implantation: Resource = {
    resourceType: 'Procedure',
    id: operation.id,
    identifier: [ownIdentifier(operation.id)],
    status: 'completed',
    code: ownConcept('procedures', 'implantation', 'implantation of a phakic lens'),
    subject,
    performedDateTime: performedOn,
    ...(surgeon === undefined ? {} : { performer: [{ actor: { display: surgeon } }] }),
    bodySite: [site],
    focalDevice: [{ action: inWords('implanted'), manipulated: lens }],
  };
  const axis: Resource = {
    resourceType: 'Observation',
    id: uuidOf(operation.id, 'axis'),
    status: 'final',
    partOf: [referTo(operation.id)],
    code: ownConcept('measurements', 'axis-at-implantation', 'lens axis at implantation'),
    subject,
    focus: [lens],
    effectiveDateTime: performedOn,
    bodySite: site,
    valueQuantity: quantity(operation.axisDeg, '°'),
  };
  if (operation.explantedOn === null) return [implantation, axis];
  const explantation: Resource = {
    resourceType: 'Procedure',
    id: uuidOf(operation.id, 'explantation'),
    status: 'completed',
    code: ownConcept('procedures', 'explantation', 'explantation of a phakic lens'),
    subject,
    performedDateTime: fromDate(operation.explantedOn),
    ...(operation.explantWhy === null ? {} : { reasonCode: [reasonOf(operation.explantWhy)] }),
    bodySite: [site],
    focalDevice: [{ action: inWords('explanted'), manipulated: lens }],
  };
  return [implantation, axis, explantation];
}
