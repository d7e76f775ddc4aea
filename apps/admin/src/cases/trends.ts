import { OUTCOME_SPREADS, READING_NOISE } from '@lensferry/calculation';
import { measurementKinds, type MeasurementKind } from '@lensferry/domain';
import type { Measurement } from '@lensferry/contracts';
import type { Reading } from './trend';

export interface NamedTrend {
  name: string;
  unit: string;
  readings: Reading[];
  noise: number | null;
}

/** The numbers that are followed over time. */
const followed: { kind: MeasurementKind; name: string; noise: number | null }[] = [
  { kind: 'refraction', name: 'sphereD', noise: OUTCOME_SPREADS.keratoconus.spreads.refraction.meanD },
  { kind: 'refraction', name: 'cylinderD', noise: 2 * OUTCOME_SPREADS.keratoconus.spreads.refraction.j0D },
  { kind: 'refraction', name: 'correctedDecimal', noise: null },
  { kind: 'keratometry', name: 'kmaxD', noise: READING_NOISE.kmaxD },
  { kind: 'keratometry', name: 'flatD', noise: READING_NOISE.flatD },
  { kind: 'keratometry', name: 'thinnestUm', noise: null },
  { kind: 'health', name: 'endothelialCellsPerMm2', noise: null },
  { kind: 'vault', name: 'vaultUm', noise: null },
];

/** The trends that have at least two readings that count. */
export function trendsOf(measurements: readonly Measurement[]): NamedTrend[] {
  return followed
    .map(({ kind, name, noise }) => {
      const field = measurementKinds[kind].find((one) => one.name === name);
      const readings = measurements
        .filter((one) => one.kind === kind && !one.corrected && typeof one.values[name] === 'number')
        .map((one) => ({ takenOn: one.takenOn, value: Number(one.values[name]) }));
      return { name, unit: field && 'unit' in field ? field.unit : '', readings, noise };
    })
    .filter(({ readings }) => readings.length > 1);
}
