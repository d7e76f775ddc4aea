import { decimalFromLogMar } from '@lensferry/calculation';
import { movedDay, shownName, type Hidden } from '../outcomes/de-identify.js';
import type { OperatedEye } from '../outcomes/operated-eyes.queries.js';
import { plusDays } from '../platform/plain-date.js';
import { lensQuantities, whatItIs } from './map-lens.js';
import { bodySite, inWords, ownConcept, quantity, referTo, uuidOf, wordsOf, type Resource } from './parts.js';

const patientOf = ({ patientId }: OperatedEye): string => uuidOf(patientId, 'unnamed patient');
const idOf = ({ caseId }: OperatedEye, of: string): string => uuidOf(caseId, `unnamed ${of}`);

/** A patient of whom nothing is told: one pseudonym for both eyes, the same from export to export. */
export const mapUnnamedPatient = (eye: OperatedEye): Resource => ({
  resourceType: 'Patient',
  id: patientOf(eye),
  // The label is from memory: pseudonymised.
  meta: {
    security: [{ system: 'http://terminology.hl7.org/CodeSystem/v3-ObservationValue', code: 'PSEUDED' }],
  },
});

/** An eye's present lens, its surgery, earlier procedures, and what was measured before and at each visit. */
export function mapEye(eye: OperatedEye, hidden: Hidden): Resource[] {
  const subject = referTo(patientOf(eye));
  const site = bodySite(eye.eye);
  const day = (daysAfter: number): string => movedDay(eye.patientId, plusDays(eye.operatedOn, daysAfter));
  const clinic = shownName(eye, 'clinic', hidden);
  const { before, visits } = eye.outcome;
  const observed = (of: string, name: string, rest: object, daysAfter?: number): Resource => ({
    resourceType: 'Observation',
    id: idOf(eye, `${of} ${name}`),
    status: 'final',
    code: ownConcept('measurements', name, wordsOf(name)),
    subject,
    bodySite: site,
    ...(daysAfter === undefined ? {} : { effectiveDateTime: day(daysAfter) }),
    ...rest,
  });
  const seen = (
    of: string,
    { refraction, correctedLogMar, uncorrectedLogMar, vaultUm }: Seen,
    daysAfter?: number,
  ): Resource[] => [
    ...(refraction === undefined
      ? []
      : [observed(of, 'refraction', { component: refractionParts(refraction) }, daysAfter)]),
    ...acuity(correctedLogMar, (rest) => observed(of, 'corrected distance visual acuity', rest, daysAfter)),
    ...acuity(uncorrectedLogMar, (rest) =>
      observed(of, 'uncorrected distance visual acuity', rest, daysAfter),
    ),
    ...(vaultUm === undefined
      ? []
      : [observed(of, 'vault', { valueQuantity: quantity(vaultUm, 'µm'), focus: [lensOf(eye)] }, daysAfter)]),
  ];
  return [
    mapPresentLens(eye, hidden),
    {
      resourceType: 'Procedure',
      id: idOf(eye, 'implantation'),
      status: 'completed',
      code: ownConcept('procedures', 'implantation', 'implantation of a phakic lens'),
      subject,
      performedDateTime: day(0),
      bodySite: [site],
      ...(clinic === null ? {} : { location: { display: clinic } }),
      focalDevice: [{ action: inWords('implanted'), manipulated: lensOf(eye) }],
    },
    ...eye.procedures.map((name) => ({
      resourceType: 'Procedure',
      id: idOf(eye, name),
      status: 'completed',
      code: ownConcept('procedures', name, wordsOf(name)),
      subject,
      bodySite: [site],
    })),
    ...seen('before', before),
    ...visits.flatMap((visit) => seen(`day ${visit.daysAfter}`, visit, visit.daysAfter)),
  ];
}

type Seen = Pick<OperatedEye['outcome']['before'], 'correctedLogMar' | 'uncorrectedLogMar'> & {
  readonly refraction?: OperatedEye['outcome']['before']['refraction'] | undefined;
  readonly vaultUm?: number | undefined;
};

const lensOf = (eye: OperatedEye): { reference: string } => referTo(idOf(eye, 'lens'));

/** The lens as its design and numbers: a serial number would lead back to the eye. */
function mapPresentLens(eye: OperatedEye, hidden: Hidden): Resource {
  const [maker, design] = [shownName(eye, 'maker', hidden), shownName(eye, 'design', hidden)];
  return {
    resourceType: 'Device',
    id: idOf(eye, 'lens'),
    status: 'active',
    type: whatItIs,
    ...(maker === null ? {} : { manufacturer: maker }),
    ...(design === null ? {} : { deviceName: [{ name: design, type: 'manufacturer-name' }] }),
    property: lensQuantities({ lengthMm: eye.vaults.at(-1)?.lengthMm ?? null }).map((one) => ({
      type: inWords(one.name),
      valueQuantity: [one.quantity],
    })),
    patient: referTo(patientOf(eye)),
  };
}

type Refraction = NonNullable<Seen['refraction']>;

const refractionParts = ({ sphereD, cylinderD, axisDeg, vertexMm }: Refraction) =>
  [
    ['sphereD', sphereD, 'D'],
    ['cylinderD', cylinderD, 'D'],
    ...(cylinderD === 0 ? [] : [['axisDeg', axisDeg, '°']]),
    ['vertexMm', vertexMm, 'mm'],
  ].map(([name, value, unit]) => ({
    code: ownConcept('measurements', `refraction.${String(name)}`, wordsOf(String(name))),
    valueQuantity: quantity(Number(value), String(unit)),
  }));

function acuity(logMar: number | undefined, observed: (rest: object) => Resource): Resource[] {
  if (logMar === undefined) return [];
  return [observed({ valueQuantity: quantity(Number(decimalFromLogMar(logMar).toFixed(3)), 'decimal') })];
}
