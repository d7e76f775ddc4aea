import { requireNumber, type NumberRange } from '../calculation-error.js';

/** What size and vault are judged from; every measurement may be missing. */
export interface SizingEye {
  /** Horizontal corneal diameter, limbus to limbus. */
  readonly whiteToWhiteMm?: number | undefined;
  /** Horizontal sulcus to sulcus. */
  readonly sulcusMm?: number | undefined;
  /** Vertical sulcus to sulcus. */
  readonly verticalSulcusMm?: number | undefined;
  /** Horizontal angle to angle. */
  readonly angleToAngleMm?: number | undefined;
  /** Height of the crystalline lens above the line between the angles; negative when behind it. */
  readonly lensRiseUm?: number | undefined;
  /** Thickness of the crystalline lens. */
  readonly lensThicknessMm?: number | undefined;
  /** Central depth from the endothelium. */
  readonly anteriorChamberDepthMm?: number | undefined;
  /** Steepest keratometry. */
  readonly kmaxD?: number | undefined;
  /** Distance of the cone's steepest point from the centre of the cornea. */
  readonly coneDistanceMm?: number | undefined;
}

/** What each sizing field may hold (common practice, no source). */
export const SIZING_RANGES = {
  whiteToWhiteMm: { min: 8, max: 16, unit: 'mm' },
  sulcusMm: { min: 8, max: 16, unit: 'mm' },
  verticalSulcusMm: { min: 8, max: 16, unit: 'mm' },
  angleToAngleMm: { min: 8, max: 16, unit: 'mm' },
  lensRiseUm: { min: -1500, max: 2500, unit: 'µm' },
  lensThicknessMm: { min: 2, max: 7, unit: 'mm' },
  anteriorChamberDepthMm: { min: 1, max: 7, unit: 'mm' },
  kmaxD: { min: 30, max: 150, unit: 'D' },
  coneDistanceMm: { min: 0, max: 6, unit: 'mm' },
} as const satisfies Record<keyof SizingEye, NumberRange>;

/** Lengths that a lens may have. */
export const LENGTH_MM: NumberRange = { min: 8, max: 18, unit: 'mm' };

/** Vaults that a device may print; negative never comes out of one. */
export const MEASURED_VAULT_UM: NumberRange = { min: 0, max: 3000, unit: 'µm' };

/**
 * Throws CalculationError for a measurement that is present and cannot be.
 * @source ranges: common practice, no source
 * @example requireSizingEye({ sulcusMm: 11.6 })
 */
export function requireSizingEye(eye: SizingEye): void {
  for (const field of Object.keys(SIZING_RANGES) as (keyof SizingEye)[]) {
    const value = eye[field];
    if (value !== undefined) requireNumber(field, value, SIZING_RANGES[field]);
  }
}
