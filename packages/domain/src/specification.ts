/** Which eye: right (oculus dexter) or left (oculus sinister), as everywhere in ophthalmology. */
export const eyes = ['OD', 'OS'] as const;
export type Eye = (typeof eyes)[number];

/** The eye in words, in capitals, for whatever leaves the screen. */
export const eyeInCapitals: Record<Eye, 'RIGHT' | 'LEFT'> = { OD: 'RIGHT', OS: 'LEFT' };

/**
 * Exactly what a surgeon signs and a maker builds. A signature binds to the SHA-256 of this object's RFC 8785
 * canonical JSON, so its shape is versioned and nothing that may change without a new signature belongs in it.
 */
export interface Specification {
  readonly version: 1;
  readonly caseCode: string;
  readonly eye: Eye;
  readonly makerCode: string;
  readonly designCode: string;
  readonly designVersion: number;
  /** Lens sphere, dioptres. */
  readonly sphereD: number;
  /** Lens cylinder, dioptres, minus form: zero or below. */
  readonly cylinderD: number;
  /** Lens axis, degrees, 1 to 180 as labels print it; null exactly when the cylinder is 0. */
  readonly axisDeg: number | null;
  /** Overall length, millimetres. */
  readonly lengthMm: number;
  /** The refraction aimed at, spectacle plane, minus form. */
  readonly target: { readonly sphereD: number; readonly cylinderD: number; readonly axisDeg: number | null };
  /** The serial of the lens in the eye that this one replaces, for an exchange. */
  readonly replacesSerial: string | null;
}

/** A field of the specification that differs between two versions of it. */
export interface SpecificationDifference {
  readonly field: string;
  readonly before: string | number | null;
  readonly after: string | number | null;
}

/** The fields that differ between two specifications, in the order of the specification; none when equal. */
export function specificationDifferences(
  before: Specification,
  after: Specification,
): SpecificationDifference[] {
  const left = flat(before);
  const right = flat(after);
  return Object.keys(left)
    .filter((field) => left[field] !== right[field])
    .map((field) => ({ field, before: left[field] ?? null, after: right[field] ?? null }));
}

function flat(spec: Specification): Record<string, string | number | null> {
  const { target, version: _version, ...rest } = spec;
  return {
    ...rest,
    targetSphereD: target.sphereD,
    targetCylinderD: target.cylinderD,
    targetAxisDeg: target.axisDeg,
  };
}

/** An axis as labels and orders print it: whole degrees 1 to 180 (0 reads 180), null without a cylinder. */
export function printedAxis(cylinderD: number, axisDeg: number | null): number | null {
  if (cylinderD === 0 || axisDeg === null) return null;
  const whole = Math.round(axisDeg) % 180;
  return whole <= 0 ? whole + 180 : whole;
}
