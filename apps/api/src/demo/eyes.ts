import type { MeasurementInput } from '@lensferry/contracts';

/** A deterministic source of numbers from 0 to 1: mulberry32, public domain. */
export function dice(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = state;
    mixed = Math.imul(mixed ^ (mixed >>> 15), mixed | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

export interface DemoEye {
  readonly flatD: number;
  readonly steepD: number;
  readonly steepAxisDeg: number;
  readonly kmaxD: number;
  readonly coneDistanceMm: number;
  readonly coneDirectionDeg: number;
  readonly thinnestUm: number;
  readonly sphereD: number;
  readonly cylinderD: number;
  readonly axisDeg: number;
  readonly depthMm: number;
  readonly thicknessUm: number;
  readonly whiteToWhiteMm: number;
  readonly sulcusMm: number | null;
  readonly verticalSulcusMm: number | null;
  readonly lensThicknessMm: number;
  readonly cells: number;
  readonly correctedDecimal: number;
}

const to = (value: number, step: number): number => Math.round(Math.round(value / step) * step * 1000) / 1000;

/**
 * An invented eye with stabilised keratoconus. Ranges are chosen to look like a referral practice: moderate to
 * advanced cones, high oblique or against-the-rule cylinder, spectacle acuity that still makes a lens worth while.
 */
export function inventEye(roll: () => number): DemoEye {
  const between = (low: number, high: number): number => low + roll() * (high - low);
  const flatD = to(between(43, 47.5), 0.1);
  const steepD = to(flatD + between(2.5, 6.5), 0.1);
  const steepAxisDeg = Math.round(between(0, 179));
  const thicknessUm = Math.round(between(435, 505));
  const sulcus = between(11.3, 12.2);
  const measured = roll() < 0.75;
  return {
    flatD,
    steepD,
    steepAxisDeg,
    kmaxD: to(steepD + between(1, 8), 0.1),
    coneDistanceMm: to(between(0.4, 2), 0.1),
    coneDirectionDeg: Math.round(between(240, 300)),
    thinnestUm: thicknessUm - Math.round(between(8, 30)),
    sphereD: to(-between(4, 12), 0.25),
    cylinderD: to(-between(2.5, 7), 0.25),
    axisDeg: (steepAxisDeg + 90 + Math.round(between(-11, 11)) + 180) % 180,
    depthMm: to(between(2.95, 3.45), 0.01),
    thicknessUm,
    whiteToWhiteMm: to(sulcus + between(-0.4, 0.3), 0.01),
    sulcusMm: measured ? to(sulcus, 0.01) : null,
    verticalSulcusMm: measured ? to(sulcus + between(0.2, 0.7), 0.01) : null,
    lensThicknessMm: to(between(3.5, 3.95), 0.01),
    cells: Math.round(between(2420, 2980)),
    correctedDecimal: [0.5, 0.63, 0.63, 0.8, 0.8, 1][Math.floor(roll() * 6)] ?? 0.8,
  };
}

/** Everything that is measured at a first visit. */
export function firstVisit(eye: DemoEye, day: string): MeasurementInput[] {
  return [
    refractionOf(eye, day, 0),
    {
      kind: 'keratometry',
      takenOn: day,
      device: 'tomograph',
      values: {
        flatD: eye.flatD,
        steepD: eye.steepD,
        steepAxisDeg: eye.steepAxisDeg,
        index: '1.3375',
        kmaxD: eye.kmaxD,
        coneDistanceMm: eye.coneDistanceMm,
        coneDirectionDeg: eye.coneDirectionDeg,
        thinnestUm: eye.thinnestUm,
      },
    },
    {
      kind: 'chamber',
      takenOn: day,
      device: 'anterior-segment OCT',
      values: { depthMm: eye.depthMm, from: 'endothelium', cornealThicknessUm: eye.thicknessUm },
    },
    {
      kind: 'dimensions',
      takenOn: day,
      device: eye.sulcusMm === null ? 'caliper and OCT' : 'ultrasound biomicroscope',
      values: {
        whiteToWhiteMm: eye.whiteToWhiteMm,
        lensThicknessMm: eye.lensThicknessMm,
        ...(eye.sulcusMm === null ? {} : { sulcusMm: eye.sulcusMm, verticalSulcusMm: eye.verticalSulcusMm }),
      },
    },
    {
      kind: 'health',
      takenOn: day,
      device: 'slit lamp and specular microscope',
      values: {
        endothelialCellsPerMm2: eye.cells,
        pressureMmHg: 14,
        angleGrade: 4,
        pupilMm: 6.2,
        pregnancy: 'not applicable',
      },
    },
  ] as MeasurementInput[];
}

/** A subjective refraction; `drift` moves it by quarter dioptres, as repeats in keratoconus do. */
export function refractionOf(eye: DemoEye, day: string, drift: number): MeasurementInput {
  return {
    kind: 'refraction',
    takenOn: day,
    device: 'subjective, phoropter',
    values: {
      sphereD: to(eye.sphereD + drift * 0.25, 0.25),
      cylinderD: eye.cylinderD,
      axisDeg: (eye.axisDeg + drift * 3 + 180) % 180,
      vertexMm: 12,
      correctedDecimal: eye.correctedDecimal,
      uncorrectedDecimal: 0.05,
    },
  };
}
