export * from './types.js';
export { OPTICS_RANGES } from './ranges.js';
export * from './power-matrix.js';
export {
  blurD,
  normalAxisDeg,
  powerVector,
  sphereCylinder,
  sphericalEquivalentD,
  turnDeg,
} from './power-vector.js';
export * from './sphere-cylinder.js';
export * from './vertex-step.js';
export {
  KERATOMETRIC_CONVERSIONS,
  cornealPower,
  cornealPowerFactor,
  keratometricConversion,
  type KeratometricConversion,
} from './corneal-power.js';
export {
  AQUEOUS_INDEX,
  DEFAULT_LENS_PLANE_OFFSET_MM,
  depthFromEndotheliumMm,
  lensDistanceMm,
} from './eye-optics.js';
export * from './ideal-lens.js';
export * from './predicted-refraction.js';
export * from './prepared-eye.js';
export {
  lensRangeGaps,
  type AxisPolicy,
  type LensRange,
  type LensTurn,
  type PowerSteps,
  type RangeGap,
} from './lens-range.js';
export * from './lens-tolerance.js';
export { DEFAULT_RANK_POLICY, isWithTheRule, type PolicyBreak, type RankPolicy } from './rank-policy.js';
export { rankLenses, type RankedLens } from './rank-lenses.js';
export * from './mean-refraction.js';
