import { stabilisingProcedures, type MeasurementKind } from './kinds.js';

/** A measurement as the rules see it: its kind, its day and its values. Corrected ones are left out beforehand. */
export interface MeasurementFacts {
  readonly id: string;
  readonly kind: MeasurementKind;
  /** ISO plain date. */
  readonly takenOn: string;
  /** ISO instant at which it was entered. */
  readonly recordedAt: string;
  readonly values: Readonly<Record<string, number | string | null>>;
}

/** What a plan is computed from, each number with the measurement that it came from. Absent numbers are null. */
export interface GatheredEye {
  readonly measurementIds: string[];
  readonly refraction: { sphereD: number; cylinderD: number; axisDeg: number | null; vertexMm: number };
  readonly keratometry: { flatD: number; steepD: number; steepAxisDeg: number; index: number | null };
  readonly depthFromEndotheliumMm: number;
  readonly cornealThicknessUm: number;
  readonly kmaxD: number | null;
  readonly coneDistanceMm: number | null;
  readonly coneDirectionDeg: number | null;
  readonly whiteToWhiteMm: number | null;
  readonly sulcusMm: number | null;
  readonly verticalSulcusMm: number | null;
  readonly angleToAngleMm: number | null;
  readonly lensRiseUm: number | null;
  readonly lensThicknessMm: number | null;
}

/** The operation that first put a lens into the eye. */
export interface FirstSurgery {
  /** ISO plain date. */
  readonly performedOn: string;
  /** ISO instant at which the operation was entered. */
  readonly recordedAt: string;
}

/**
 * The measurements of the eye itself. What was measured behind a lens is not the eye's own: after surgery nothing
 * counts that was taken on a later day, or entered after the operation was (which settles the day of surgery, when
 * both kinds bear the same date, on the safe side).
 */
export function ownMeasurements<T extends Pick<MeasurementFacts, 'takenOn' | 'recordedAt'>>(
  measurements: readonly T[],
  surgery: FirstSurgery | null,
): readonly T[] {
  if (surgery === null) return measurements;
  return measurements.filter(
    ({ takenOn, recordedAt }) => takenOn <= surgery.performedOn && recordedAt < surgery.recordedAt,
  );
}

/** The latest measurement of a kind; null when there is none. */
export function latestOf(
  measurements: readonly MeasurementFacts[],
  kind: MeasurementKind,
): MeasurementFacts | null {
  return measurements
    .filter((measurement) => measurement.kind === kind)
    .reduce<MeasurementFacts | null>(
      (best, next) => (best === null || next.takenOn >= best.takenOn ? next : best),
      null,
    );
}

/**
 * Takes the latest refraction, keratometry, chamber depth and dimensions of an eye. Nothing is averaged; each
 * dimension is the latest that was measured. A depth said from the epithelium has the cornea's thickness taken off.
 * @param surgery the first implantation, null while the eye never had a lens; see `ownMeasurements`.
 * @returns the eye, or the kinds that are missing.
 */
export function gatherEye(
  measurements: readonly MeasurementFacts[],
  surgery: FirstSurgery | null,
): { eye: GatheredEye; missing: [] } | { eye: null; missing: MeasurementKind[] } {
  const own = ownMeasurements(measurements, surgery);
  const refraction = latestOf(own, 'refraction');
  const keratometry = latestOf(own, 'keratometry');
  const chamber = latestOf(own, 'chamber');
  const dimensions = own
    .filter(({ kind }) => kind === 'dimensions')
    .sort((a, b) => a.takenOn.localeCompare(b.takenOn));
  const missing: MeasurementKind[] = [];
  if (refraction === null) missing.push('refraction');
  if (keratometry === null) missing.push('keratometry');
  if (chamber === null) missing.push('chamber');
  if (dimensions.length === 0) missing.push('dimensions');
  if (refraction === null || keratometry === null || chamber === null || dimensions.length === 0)
    return { eye: null, missing };

  const value = (from: MeasurementFacts, name: string): number => Number(from.values[name]);
  const orNull = (from: MeasurementFacts, name: string): number | null => {
    const found = from.values[name];
    return typeof found === 'number' ? found : null;
  };
  const latestDimension = (name: string): number | null =>
    dimensions.reduce<number | null>((last, next) => orNull(next, name) ?? last, null);
  const index = keratometry.values['index'];
  const thicknessUm = value(chamber, 'cornealThicknessUm');
  const depth = value(chamber, 'depthMm');
  return {
    missing: [],
    eye: {
      measurementIds: [refraction, keratometry, chamber, ...dimensions].map(({ id }) => id),
      refraction: {
        sphereD: value(refraction, 'sphereD'),
        cylinderD: value(refraction, 'cylinderD'),
        axisDeg: orNull(refraction, 'axisDeg'),
        vertexMm: value(refraction, 'vertexMm'),
      },
      keratometry: {
        flatD: value(keratometry, 'flatD'),
        steepD: value(keratometry, 'steepD'),
        steepAxisDeg: value(keratometry, 'steepAxisDeg'),
        index: index === 'none' || index === undefined ? null : Number(index),
      },
      depthFromEndotheliumMm:
        chamber.values['from'] === 'epithelium'
          ? Math.round((depth - thicknessUm / 1000) * 1000) / 1000
          : depth,
      cornealThicknessUm: thicknessUm,
      kmaxD: orNull(keratometry, 'kmaxD'),
      coneDistanceMm: orNull(keratometry, 'coneDistanceMm'),
      coneDirectionDeg: orNull(keratometry, 'coneDirectionDeg'),
      whiteToWhiteMm: latestDimension('whiteToWhiteMm'),
      sulcusMm: latestDimension('sulcusMm'),
      verticalSulcusMm: latestDimension('verticalSulcusMm'),
      angleToAngleMm: latestDimension('angleToAngleMm'),
      lensRiseUm: latestDimension('lensRiseUm'),
      lensThicknessMm: latestDimension('lensThicknessMm'),
    },
  };
}

/** The day of the latest procedure that stabilises a cornea; null when none is on record. */
export function stabilisedOn(measurements: readonly MeasurementFacts[]): string | null {
  const days = measurements
    .filter(
      ({ kind, values }) =>
        kind === 'procedure' && stabilisingProcedures.includes(String(values['procedure'])),
    )
    .map(({ values }) => String(values['performedOn']));
  return days.length === 0 ? null : (days.sort().at(-1) ?? null);
}

/** Whole months from one plain date to another. */
export function monthsBetween(from: string, to: string): number {
  const [fromYear = 0, fromMonth = 0, fromDay = 0] = from.split('-').map(Number);
  const [toYear = 0, toMonth = 0, toDay = 0] = to.split('-').map(Number);
  return (toYear - fromYear) * 12 + (toMonth - fromMonth) - (toDay < fromDay ? 1 : 0);
}
