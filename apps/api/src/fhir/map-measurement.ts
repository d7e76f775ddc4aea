import { measurementKinds, type Field } from '@lensferry/domain';
import { lensBehind, standing, type CaseRow } from '../cases/cases.store.js';
import { fromDate } from '../platform/plain-date.js';
import { bodySite, inWords, ownConcept, quantity, referTo, uuidOf, wordsOf, type Resource } from './parts.js';

type Row = CaseRow['measurements'][number];
type Values = Readonly<Record<string, number | string | null>>;

/** What stands of the measurements; one that was put right is told once, as corrected. */
export const mapMeasurements = (row: CaseRow): Resource[] =>
  standing(row.measurements).flatMap((measured) =>
    measured.kind === 'procedure' ? [earlierProcedure(row, measured)] : observations(row, measured),
  );

/** One Observation with a component for each number or choice; each acuity is an Observation of its own. */
function observations(row: CaseRow, measured: Row): Resource[] {
  const values = measured.values as Values;
  const given = (measurementKinds[measured.kind] as readonly Field[]).filter(
    ({ name }) => values[name] !== null && values[name] !== undefined,
  );
  const acuities = given.filter((field) => field.type === 'number' && field.unit === 'decimal');
  const rest = given.filter((field) => !acuities.includes(field));
  const common = commonOf(row, measured);
  return [
    ...(rest.length === 0
      ? []
      : [
          {
            ...common,
            id: measured.id,
            code: ownConcept('measurements', measured.kind, wordsOf(measured.kind)),
            component: rest.map((field) => ({
              code: codeOf(measured, field),
              ...valueOf(field, values[field.name]),
            })),
          },
        ]),
    ...acuities.map((field) => ({
      ...common,
      id: uuidOf(measured.id, field.name),
      code: ownConcept('measurements', `${measured.kind}.${field.name}`, acuityWords[field.name] ?? 'acuity'),
      ...valueOf(field, values[field.name]),
    })),
  ];
}

const acuityWords: Readonly<Record<string, string>> = {
  correctedDecimal: 'corrected distance visual acuity',
  uncorrectedDecimal: 'uncorrected distance visual acuity',
  acuityDecimal: 'visual acuity with contact lens',
};
const codeOf = ({ kind }: Row, { name }: Field) =>
  ownConcept('measurements', `${kind}.${name}`, wordsOf(name));

function commonOf(row: CaseRow, measured: Row) {
  const behind = lensBehind(row, {
    takenOn: fromDate(measured.takenOn),
    recordedAt: measured.recordedAt.toISOString(),
  });
  return {
    resourceType: 'Observation',
    status: measured.corrects === null ? 'final' : 'corrected',
    category: [
      {
        coding: [
          {
            system: 'http://terminology.hl7.org/CodeSystem/observation-category',
            code: 'exam',
            display: 'Exam',
          },
        ],
      },
    ],
    subject: referTo(row.patientId),
    // A vault or a lens axis is about the lens that lay in the eye that day.
    ...(behind !== undefined && ['vault', 'lens_axis'].includes(measured.kind)
      ? { focus: [referTo(behind.lensId)] }
      : {}),
    effectiveDateTime: fromDate(measured.takenOn),
    issued: measured.recordedAt.toISOString(),
    bodySite: bodySite(row.eye),
    ...(measured.device === '' ? {} : { device: { display: measured.device } }),
  };
}

function valueOf(field: Field, value: number | string | null | undefined) {
  if (field.type === 'number') return { valueQuantity: quantity(Number(value), field.unit) };
  if (field.type === 'date') return { valueDateTime: String(value) };
  return { valueCodeableConcept: inWords(String(value).replaceAll('_', ' ')) };
}

function earlierProcedure(row: CaseRow, measured: Row): Resource {
  const { procedure, performedOn } = measured.values as { procedure: string; performedOn: string };
  return {
    resourceType: 'Procedure',
    id: measured.id,
    status: 'completed',
    code: ownConcept('procedures', procedure, wordsOf(procedure)),
    subject: referTo(row.patientId),
    performedDateTime: performedOn,
    bodySite: [bodySite(row.eye)],
  };
}
