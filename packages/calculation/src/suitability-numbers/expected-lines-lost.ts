import { requireNumber } from '../calculation-error.js';

/** What a wearer of rigid or scleral lenses gives up with the cornea's irregularity uncorrected. */
export interface LinesLost {
  /** Lines of 0.1 logMAR; negative when spectacles are better. */
  readonly lines: number;
  /** The acuity to expect without lens or spectacles afterwards, logMAR: what spectacles give now. */
  readonly expectedLogMar: number;
}

/**
 * Lines that a rigid-lens wearer is expected to lose: a phakic lens does what spectacles do, so the
 * loss is the acuity with spectacles less that with the contact lens, in tenths of logMAR.
 * Throws CalculationError for an acuity outside -0.5 to 3 logMAR.
 * @source uncorrected acuity afterwards is about what spectacles give now: common practice, no source
 * @example expectedLinesLost({ spectaclesLogMar: 0.3, contactLensLogMar: 0 }).lines // 3
 */
export function expectedLinesLost(acuity: {
  readonly spectaclesLogMar: number;
  readonly contactLensLogMar: number;
}): LinesLost {
  const range = { min: -0.5, max: 3, unit: 'logMAR' };
  const spectacles = requireNumber('spectaclesLogMar', acuity.spectaclesLogMar, range);
  const contactLens = requireNumber('contactLensLogMar', acuity.contactLensLogMar, range);
  // Rounded to a thousandth of a line: 0.3 - 0 must print as 3 lines.
  return {
    lines: Math.round((spectacles - contactLens) * 10000) / 1000 + 0,
    expectedLogMar: spectacles,
  };
}
