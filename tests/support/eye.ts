import type { Person } from './house.js';

const day = (ago: number): string => new Date(Date.now() - ago * 86_400_000).toISOString().slice(0, 10);
export { day };

/** An eye that can be planned: the toric worked example of the published checks, with the sizes to go with it. */
export const eyeMeasurements = (): unknown[] => [
  {
    kind: 'procedure',
    takenOn: day(10),
    device: 'letter',
    values: { procedure: 'cross_linking', performedOn: day(500) },
  },
  {
    kind: 'refraction',
    takenOn: day(20),
    device: 'phoropter',
    // Plus form: the same as -8.00 / -4.00 x 30.
    values: { sphereD: -12, cylinderD: 4, axisDeg: 120, vertexMm: 12, correctedDecimal: 0.8 },
  },
  {
    kind: 'refraction',
    takenOn: day(10),
    device: 'phoropter',
    values: {
      sphereD: -8,
      cylinderD: -4,
      axisDeg: 30,
      vertexMm: 12,
      correctedDecimal: 0.8,
      uncorrectedDecimal: 0.05,
    },
  },
  {
    kind: 'keratometry',
    takenOn: day(10),
    device: 'tomograph',
    values: { flatD: 46, steepD: 50, steepAxisDeg: 120, index: 'none', kmaxD: 53, coneDistanceMm: 1.2 },
  },
  {
    kind: 'chamber',
    takenOn: day(10),
    device: 'OCT',
    values: { depthMm: 3.6, from: 'epithelium', cornealThicknessUm: 480 },
  },
  {
    kind: 'dimensions',
    takenOn: day(10),
    device: 'ultrasound biomicroscope',
    values: { sulcusMm: 11.6, verticalSulcusMm: 12, lensThicknessMm: 3.6, whiteToWhiteMm: 11.7 },
  },
  {
    kind: 'health',
    takenOn: day(10),
    device: 'slit lamp',
    values: { endothelialCellsPerMm2: 2700, angleGrade: 4, pregnancy: 'no' },
  },
];

export interface CaseBody {
  id: string;
  code: string;
  version: number;
  stage: string;
  waiting: { for: string; by: string | null };
  missing: string[];
  actions: string[];
  measurements: {
    id: string;
    kind: string;
    values: Record<string, number | string | null>;
    corrected: boolean;
  }[];
  lenses: {
    id: string;
    serial: string;
    state: string;
    version: number;
    steps: string[];
    lens: { lengthMm: number };
  }[];
  orders: { id: string; number: string; state: string; round: number }[];
  exchanges: { id: string; proposal: { proposedLengthMm: number | null }; endedAt: string | null }[];
  implantations: { serial: string; explantedOn: string | null }[];
  vaultChecks: { band: string }[];
  proposal: { proposedLengthMm: number | null } | null;
  history: { action: string }[];
}

/** Opens a case and measures its eye. */
export async function openMeasuredCase(
  coordinator: Person,
  {
    clinicId,
    surgeonId,
    codeName,
    eye = 'OD',
  }: { clinicId: string; surgeonId: string; codeName: string; eye?: 'OD' | 'OS' },
): Promise<CaseBody> {
  const opened = await coordinator.post<CaseBody>('/api/cases', {
    clinicId,
    codeName,
    birthYear: 1994,
    identity: { name: 'Test Person', birthDate: '1994-02-03', recordNumber: 'T-1' },
    eye,
    surgeonId,
  });
  if (opened.status !== 201) throw new Error(JSON.stringify(opened.body));
  let last = opened.body;
  for (const measurement of eyeMeasurements()) {
    const answer = await coordinator.post<CaseBody>(`/api/cases/${last.id}/measurements`, measurement);
    if (answer.status !== 201) throw new Error(JSON.stringify(answer.body));
    last = answer.body;
  }
  return last;
}
