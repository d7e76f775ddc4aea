import type { LabelLens, LabelReading } from './label-reading.js';

/** The fields that a label is compared in, in the order in which a person checks them. */
export const COMPARED_FIELDS = [
  'eye',
  'sphereD',
  'cylinderD',
  'axisDeg',
  'lengthMm',
  'serial',
  'lot',
  'expiresOn',
  'gtin',
  'caseCode',
] as const;
/** One of {@link COMPARED_FIELDS}. */
export type ComparedField = (typeof COMPARED_FIELDS)[number];

/**
 * What the order and the maker's shipping notice say of the pack. A field that nobody announced is left out
 * (undefined) and then not compared; `null` means that there must be none, as the axis of a spherical lens.
 */
export interface ExpectedLabel {
  readonly eye?: 'RIGHT' | 'LEFT';
  readonly sphereD?: number;
  readonly cylinderD?: number;
  readonly axisDeg?: number | null;
  readonly lengthMm?: number;
  readonly serial?: string;
  readonly lot?: string | null;
  readonly expiresOn?: string | null;
  readonly gtin?: string | null;
  readonly caseCode?: string;
}

/** One field of the order against the same field of the label. */
export interface FieldComparison {
  readonly field: ComparedField;
  readonly expected: string | number | null;
  readonly found: string | number | null;
  readonly verdict: 'match' | 'mismatch' | 'not on label';
}

const LENS_FIELDS: readonly string[] = ['eye', 'sphereD', 'cylinderD', 'axisDeg', 'lengthMm', 'caseCode'];

function equal(expected: string | number, found: string | number): boolean {
  // Both are decimal hundredths; only the dust of binary fractions is forgiven, never a step.
  if (typeof expected === 'number' && typeof found === 'number') return Math.abs(expected - found) < 1e-9;
  return expected === found;
}

/**
 * Compares a label with what was ordered and announced, field by field and tolerant of nothing: no rounding, no
 * axis 0 for 180, no lower case, no leading zeros. Whether "not on label" may pass is the caller's rule.
 */
export function compareLabel(expected: ExpectedLabel, reading: LabelReading): FieldComparison[] {
  const comparisons: FieldComparison[] = [];
  for (const field of COMPARED_FIELDS) {
    const wanted = expected[field];
    if (wanted === undefined) continue;
    const ofLens = LENS_FIELDS.includes(field);
    const onLabel = ofLens ? reading.lens !== undefined : reading[field as 'serial'] !== undefined;
    const found = ofLens
      ? (reading.lens?.[field as keyof LabelLens] ?? null)
      : (reading[field as 'serial' | 'lot' | 'expiresOn' | 'gtin'] ?? null);
    comparisons.push({ field, expected: wanted, found, verdict: verdict(wanted, found, onLabel) });
  }
  return comparisons;
}

function verdict(wanted: string | number | null, found: string | number | null, onLabel: boolean) {
  if (wanted === null) {
    return found !== null ? 'mismatch' : 'match';
  }
  if (!onLabel) return 'not on label';
  return found !== null && equal(wanted, found) ? 'match' : 'mismatch';
}
