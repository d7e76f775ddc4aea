import { requireNumber } from '../calculation-error.js';
import type { PowerVector } from '../optics/types.js';

/** Standard deviations of everything that makes an outcome differ from its plan; each is a setting. */
export interface OutcomeSpreads {
  /** Of one subjective refraction, by power-vector component, in D. */
  readonly refraction: PowerVector;
  /** Of the net corneal power, by power-vector component, in D. */
  readonly keratometry: PowerVector;
  /** Of the measured chamber depth. */
  readonly depthMm: number;
  /** Of where the lens comes to lie against its design's offset. */
  readonly lensPlaneMm: number;
  /** Of the axis at which the surgeon places the lens. */
  readonly axisPlacementDeg: number;
  /** Of the axis mark on the made lens. */
  readonly axisMarkDeg: number;
  /** Of the made sphere and cylinder. */
  readonly lensSphereD: number;
  readonly lensCylinderD: number;
}

/** A named set of spreads with the source of each number. */
export interface SourcedSpreads {
  readonly spreads: OutcomeSpreads;
  readonly sources: Readonly<Record<keyof OutcomeSpreads, string>>;
}

// A tolerance that practically all lenses keep is taken as 1.96 standard deviations.
const PER_TOLERANCE = 1 / 1.96;

const LENS_AND_SURGERY = {
  keratometry: { meanD: 0.51, j0D: 0.26, j45D: 0.26 },
  depthMm: 0.05,
  lensPlaneMm: 0.18,
  axisPlacementDeg: 3,
  axisMarkDeg: 5 * PER_TOLERANCE,
  lensSphereD: 0.3 * PER_TOLERANCE,
  lensCylinderD: 0.3 * PER_TOLERANCE,
} as const;

const LENS_AND_SURGERY_SOURCES = {
  keratometry:
    'flat K 0.51 D in keratoconus, 61 eyes, portal.research.lu.se; half of it for each component of the cylinder (own assumption)',
  depthMm: 'common practice, no source',
  lensPlaneMm: 'spread of vault about its prediction, 176 µm, 925 eyes, PMC9714062',
  axisPlacementDeg: 'common practice, no source',
  axisMarkDeg: 'ISO 11979-2 in general words, ±5° taken as 95 % limits, from memory',
  lensSphereD: 'ISO 11979-2 in general words, ±0.3 D taken as 95 % limits, from memory',
  lensCylinderD: 'ISO 11979-2 in general words, ±0.3 D taken as 95 % limits, from memory',
} as const;

/** Spreads by what the eye is and how its refraction was repeated. */
export const OUTCOME_SPREADS = {
  /** The default: an eye with keratoconus, refracted with care on separate days. */
  keratoconus: {
    spreads: { refraction: { meanD: 0.65, j0D: 0.29, j45D: 0.24 }, ...LENS_AND_SURGERY },
    sources: {
      refraction: 'keratoconus, 31 eyes on three days, J Ophthalmol 2020;2020:4831298',
      ...LENS_AND_SURGERY_SOURCES,
    },
  },
  /** The wide end: keratoconus refracted by many examiners about 90 days apart. */
  'keratoconus-wide': {
    spreads: { refraction: { meanD: 2.06, j0D: 0.49, j45D: 0.49 }, ...LENS_AND_SURGERY },
    sources: {
      refraction:
        'SD of differences sphere 2.91 D and cylinder 1.39 D over √2; sphere for M, half the cylinder for J (own assumption), Optom Vis Sci 1998;75:887',
      ...LENS_AND_SURGERY_SOURCES,
    },
  },
  /** Normal corneas, for comparison. */
  normal: {
    spreads: { refraction: { meanD: 0.36, j0D: 0.15, j45D: 0.15 }, ...LENS_AND_SURGERY },
    sources: {
      refraction: 'limits M ±0.70, J0 ±0.29 taken as 95 % limits, Photonics 2024;11:634',
      ...LENS_AND_SURGERY_SOURCES,
    },
  },
} as const satisfies Record<string, SourcedSpreads>;

/** The spreads used when none are given. */
export const DEFAULT_SPREADS: OutcomeSpreads = OUTCOME_SPREADS.keratoconus.spreads;

const D = { min: 0, max: 10, unit: 'D' };
const MM = { min: 0, max: 2, unit: 'mm' };
const DEG = { min: 0, max: 45, unit: 'degrees' };

/** Throws CalculationError unless every spread is a number that a spread can be. */
export function requireSpreads(spreads: OutcomeSpreads): void {
  for (const key of ['refraction', 'keratometry'] as const) {
    requireNumber(`spreads.${key}.meanD`, spreads[key].meanD, D);
    requireNumber(`spreads.${key}.j0D`, spreads[key].j0D, D);
    requireNumber(`spreads.${key}.j45D`, spreads[key].j45D, D);
  }
  requireNumber('spreads.depthMm', spreads.depthMm, MM);
  requireNumber('spreads.lensPlaneMm', spreads.lensPlaneMm, MM);
  requireNumber('spreads.axisPlacementDeg', spreads.axisPlacementDeg, DEG);
  requireNumber('spreads.axisMarkDeg', spreads.axisMarkDeg, DEG);
  requireNumber('spreads.lensSphereD', spreads.lensSphereD, D);
  requireNumber('spreads.lensCylinderD', spreads.lensCylinderD, D);
}
