import { judgeEye } from '@lensferry/calculation';
import type { ExportQuery } from '@lensferry/contracts';
import { csv, type Cell } from '../platform/csv.js';
import type { Work } from '../platform/work.js';
import {
  digest,
  LEAST_CELL,
  MOST_SHIFT_DAYS,
  movedDay,
  shownName,
  smallGroups,
  type Hidden,
  type Hideable,
} from './de-identify.js';
import { readOperatedEyes, type OperatedEye } from './operated-eyes.queries.js';
import { selectEyes } from './select-eyes.js';
import { minimumDaysOf } from './show-report.js';

interface Exported {
  readonly eye: OperatedEye;
  readonly judged: ReturnType<typeof judgeEye>;
  readonly identified: boolean;
  /** Names of groups that are too small to be shown, by column. */
  readonly hidden: Hidden;
}

interface Column {
  readonly name: string;
  readonly unit: string;
  readonly meaning: string;
  readonly of: (row: Exported) => Cell;
}

const named =
  (column: Hideable) =>
  ({ eye, hidden }: Exported): string =>
    shownName(eye, column, hidden) ?? `fewer than ${LEAST_CELL} eyes`;
const rounded = (value: number | undefined | null, places: number): number | null =>
  value === undefined || value === null ? null : Number(value.toFixed(places));
const before = ({ eye }: Exported) => eye.outcome.before;

const columns: readonly Column[] = [
  {
    name: 'eye_id',
    unit: '',
    meaning: 'The eye; without identity a pseudonym that stays the same from export to export.',
    of: ({ eye, identified }) =>
      identified ? eye.caseCode : `E-${digest(`eye:${eye.caseId}`).toString('hex').slice(0, 10)}`,
  },
  {
    name: 'patient_id',
    unit: '',
    meaning: 'The patient, as a pseudonym: two eyes of one patient have the same.',
    of: ({ eye }) => `P-${digest(`patient:${eye.patientId}`).toString('hex').slice(0, 10)}`,
  },
  { name: 'eye', unit: '', meaning: 'OD right, OS left.', of: ({ eye }) => eye.eye },
  { name: 'clinic', unit: '', meaning: 'The clinic; not named where pooled and small.', of: named('clinic') },
  {
    name: 'surgeon',
    unit: '',
    meaning: 'The surgeon; not named where pooled and small.',
    of: named('surgeon'),
  },
  { name: 'maker', unit: '', meaning: 'Maker of the lens in the eye.', of: named('maker') },
  { name: 'design', unit: '', meaning: 'Design of the lens in the eye.', of: named('design') },
  {
    name: 'birth_years',
    unit: 'years',
    meaning: 'Years of birth in fives; the year itself with identity.',
    of: ({ eye, identified }) => {
      const from = Math.floor(eye.birthYear / 5) * 5;
      return identified ? eye.birthYear : `${from} to ${from + 4}`;
    },
  },
  {
    name: 'operated_on',
    unit: 'date',
    meaning: `Day the present lens was put in; without identity moved by up to ${MOST_SHIFT_DAYS} days, the same for all of a patient's.`,
    of: ({ eye, identified }) => (identified ? eye.operatedOn : movedDay(eye.patientId, eye.operatedOn)),
  },
  {
    name: 'cone',
    unit: '',
    meaning: 'Steepest point within 1 mm of the centre: central; else decentred.',
    of: ({ eye }) => eye.cone,
  },
  {
    name: 'procedures',
    unit: '',
    meaning: 'Earlier procedures, with a space between.',
    of: ({ eye }) => eye.procedures.join(' '),
  },
  {
    name: 'before_sphere_d',
    unit: 'D',
    meaning: 'Sphere planned from, spectacle plane.',
    of: (row) => rounded(before(row).refraction.sphereD, 3),
  },
  {
    name: 'before_cylinder_d',
    unit: 'D',
    meaning: 'Cylinder planned from, minus form.',
    of: (row) => rounded(before(row).refraction.cylinderD, 3),
  },
  {
    name: 'before_axis_deg',
    unit: 'degrees',
    meaning: 'Axis planned from.',
    of: (row) => rounded(before(row).refraction.axisDeg, 1),
  },
  {
    name: 'before_corrected_logmar',
    unit: 'logMAR',
    meaning: 'Acuity with spectacles before.',
    of: (row) => rounded(before(row).correctedLogMar, 3),
  },
  {
    name: 'target_equivalent_d',
    unit: 'D',
    meaning: 'Spherical equivalent aimed at.',
    of: ({
      eye: {
        outcome: { target },
      },
    }) => rounded(target.sphereD + target.cylinderD / 2, 3),
  },
  {
    name: 'lenses',
    unit: 'lenses',
    meaning: 'Lenses that were ever in the eye; 2 means exchanged once.',
    of: ({ eye }) => eye.vaults.length,
  },
  {
    name: 'after_days',
    unit: 'days',
    meaning: 'Days from surgery to the refraction that the eye is judged by.',
    of: ({ judged }) => judged?.visit.daysAfter ?? null,
  },
  {
    name: 'after_sphere_d',
    unit: 'D',
    meaning: 'Sphere then.',
    of: ({ judged }) => rounded(judged?.visit.refraction.sphereD, 3),
  },
  {
    name: 'after_cylinder_d',
    unit: 'D',
    meaning: 'Cylinder then, minus form.',
    of: ({ judged }) => rounded(judged?.visit.refraction.cylinderD, 3),
  },
  {
    name: 'after_axis_deg',
    unit: 'degrees',
    meaning: 'Axis then.',
    of: ({ judged }) => rounded(judged?.visit.refraction.axisDeg, 1),
  },
  {
    name: 'after_uncorrected_logmar',
    unit: 'logMAR',
    meaning: 'Unaided acuity then.',
    of: ({ judged }) => rounded(judged?.visit.uncorrectedLogMar, 3),
  },
  {
    name: 'after_corrected_logmar',
    unit: 'logMAR',
    meaning: 'Acuity with spectacles then.',
    of: ({ judged }) => rounded(judged?.visit.correctedLogMar, 3),
  },
  {
    name: 'error_d',
    unit: 'D',
    meaning: 'Spherical equivalent less the one aimed at.',
    of: ({ judged }) => rounded(judged?.errorD, 3),
  },
  {
    name: 'intended_astigmatism_d',
    unit: 'D',
    meaning: 'Target induced astigmatism, corneal plane.',
    of: ({ judged }) => rounded(judged?.vectors.targetInduced.magnitudeD, 3),
  },
  {
    name: 'induced_astigmatism_d',
    unit: 'D',
    meaning: 'Surgically induced astigmatism, corneal plane.',
    of: ({ judged }) => rounded(judged?.vectors.surgicallyInduced.magnitudeD, 3),
  },
  {
    name: 'angle_of_error_deg',
    unit: 'degrees',
    meaning: 'Induced less intended axis, -90 to 90.',
    of: ({ judged }) => rounded(judged?.vectors.indices?.angleOfErrorDeg, 1),
  },
  {
    name: 'length_mm',
    unit: 'mm',
    meaning: 'Length of the present lens.',
    of: ({ eye }) => eye.vaults.at(-1)?.lengthMm ?? null,
  },
  {
    name: 'vault_um',
    unit: 'µm',
    meaning: 'First vault from day 28 on behind the present lens.',
    of: ({ eye }) => eye.vaults.at(-1)?.vaultUm ?? null,
  },
];

/** What each column of the export means. */
export function exportDictionary(): string {
  return csv([
    ['column', 'unit', 'meaning'],
    ...columns.map(({ name, unit, meaning }) => [name, unit, meaning]),
  ]);
}

/** The eyes as a table: nobody can be known again by it unless the person may see patients and asks for that. */
export async function exportEyes(work: Work, query: ExportQuery): Promise<string> {
  const identified = query.identified === 'yes';
  if (identified) work.need('case.identity');
  const eyes = selectEyes(await readOperatedEyes(work), query);
  const hidden = identified ? new Map<string, Set<string>>() : smallGroups(eyes);
  const minimumDays = minimumDaysOf(query.minimumMonths);
  const rows = eyes
    .map((eye): Exported => ({ eye, judged: judgeEye(eye.outcome, minimumDays), identified, hidden }))
    .sort((a, b) => digest(a.eye.caseId).compare(digest(b.eye.caseId)));
  for (const clinicId of new Set(eyes.map(({ clinic }) => clinic.id)))
    work.record({
      clinicId,
      action: 'outcome.export',
      facts: { identified, eyes: eyes.filter(({ clinic }) => clinic.id === clinicId).length },
    });
  return csv([columns.map(({ name }) => name), ...rows.map((row) => columns.map(({ of }) => of(row)))]);
}
