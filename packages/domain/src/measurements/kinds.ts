/** One number or choice of a measurement: what it is called, its unit, and what can be true of an eye. */
export type Field =
  | {
      readonly type: 'number';
      readonly name: string;
      readonly unit: string;
      readonly min: number;
      readonly max: number;
      /** How finely people enter it; not enforced. */
      readonly step: number;
      readonly required: boolean;
    }
  | {
      readonly type: 'choice';
      readonly name: string;
      readonly choices: readonly string[];
      readonly required: boolean;
    }
  | { readonly type: 'date'; readonly name: string; readonly required: boolean };

const number = (
  name: string,
  unit: string,
  min: number,
  max: number,
  step: number,
  required = true,
): Field => ({
  type: 'number',
  name,
  unit,
  min,
  max,
  step,
  required,
});
const choice = (name: string, choices: readonly string[], required = true): Field => ({
  type: 'choice',
  name,
  choices,
  required,
});

/**
 * What can be measured, field by field. The ranges are what can be true of a human eye, wide enough for advanced
 * keratoconus, tight enough to catch a slipped decimal point: common practice, no source.
 */
export const measurementKinds = {
  refraction: [
    number('sphereD', 'D', -40, 20, 0.25),
    number('cylinderD', 'D', -20, 20, 0.25),
    number('axisDeg', '°', 0, 180, 1, false),
    number('vertexMm', 'mm', 0, 20, 0.5),
    number('correctedDecimal', 'decimal', 0.01, 2.5, 0.05, false),
    number('uncorrectedDecimal', 'decimal', 0.001, 2.5, 0.05, false),
  ],
  keratometry: [
    number('flatD', 'D', 30, 80, 0.1),
    number('steepD', 'D', 30, 85, 0.1),
    number('steepAxisDeg', '°', 0, 180, 1),
    choice('index', ['1.3375', '1.332', 'none']),
    number('kmaxD', 'D', 35, 100, 0.1, false),
    number('coneDistanceMm', 'mm', 0, 6, 0.1, false),
    number('coneDirectionDeg', '°', 0, 360, 1, false),
    number('thinnestUm', 'µm', 200, 700, 1, false),
  ],
  chamber: [
    number('depthMm', 'mm', 1.5, 6, 0.01),
    choice('from', ['endothelium', 'epithelium']),
    number('cornealThicknessUm', 'µm', 200, 800, 1),
  ],
  dimensions: [
    number('whiteToWhiteMm', 'mm', 8, 15, 0.01, false),
    number('sulcusMm', 'mm', 8, 15, 0.01, false),
    number('verticalSulcusMm', 'mm', 8, 15, 0.01, false),
    number('angleToAngleMm', 'mm', 8, 15, 0.01, false),
    number('lensRiseUm', 'µm', -1000, 1500, 1, false),
    number('lensThicknessMm', 'mm', 2.5, 6, 0.01, false),
  ],
  health: [
    number('endothelialCellsPerMm2', 'cells/mm²', 300, 5000, 1, false),
    number('pressureMmHg', 'mmHg', 3, 60, 1, false),
    number('angleGrade', 'Shaffer grade', 0, 4, 1, false),
    number('pupilMm', 'mm', 1, 10, 0.1, false),
    choice('pregnancy', ['no', 'yes', 'not applicable'], false),
  ],
  lens_wear: [
    choice('wears', ['none', 'soft', 'rigid', 'scleral', 'hybrid']),
    { type: 'date', name: 'lastWornOn', required: false },
    number('acuityDecimal', 'decimal', 0.01, 2.5, 0.05, false),
  ],
  procedure: [
    choice('procedure', ['cross_linking', 'surface_laser', 'ring_segments', 'other']),
    { type: 'date', name: 'performedOn', required: true },
  ],
  vault: [number('vaultUm', 'µm', 0, 3000, 10), choice('lighting', ['bright', 'dim'])],
  lens_axis: [number('axisDeg', '°', 0, 180, 1)],
} as const satisfies Record<string, readonly Field[]>;

export type MeasurementKind = keyof typeof measurementKinds;
export const measurementKindNames = Object.keys(measurementKinds) as MeasurementKind[];

/** Procedures that stop keratoconus from growing; stability is counted from the latest of them. */
export const stabilisingProcedures: readonly string[] = ['cross_linking', 'surface_laser', 'ring_segments'];
