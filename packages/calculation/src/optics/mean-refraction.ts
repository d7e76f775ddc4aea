import { CalculationError, requireNumber } from '../calculation-error.js';
import { fromComponents, powerVector } from './power-vector.js';
import type { PowerVector, SphereCylinder } from './types.js';

/** Spread of repeated cylinders in double-angle space (J0 across, J45 up) as one standard ellipse. */
export interface SpreadEllipse {
  /** Half axes of the ellipse of one standard deviation, in D; the first is the longer. */
  readonly semiMajorD: number;
  readonly semiMinorD: number;
  /** Direction of the longer half axis in the J0/J45 plane, 0 ≤ a < 180 degrees (not an optical axis). */
  readonly directionDeg: number;
}

/** The mean of repeated refractions and how far they lie apart. */
export interface MeanRefraction {
  readonly mean: SphereCylinder;
  readonly count: number;
  /** Sample standard deviations of the power-vector components in D; absent for a single refraction. */
  readonly sd?: PowerVector;
  /** Covariance of M, J0, J45 in D², row by row; absent for a single refraction. */
  readonly covariance?: readonly (readonly [number, number, number])[];
  readonly ellipse?: SpreadEllipse;
  /** Greatest length of the power vector between any two of them, in D. */
  readonly greatestDifferenceD: number;
}

/**
 * The mean of repeated refractions, taken over power vectors because axes cannot be averaged, with
 * its spread as standard deviations and as an ellipse of the cylinder. All must be referred to one
 * plane (`vertexStep` brings them there). Throws CalculationError for an empty list or bad numbers.
 * @source Thibos & Horner. J Cataract Refract Surg 2001;27:80-85 (statistics on power vectors)
 * @example meanRefraction([{ sphereD: -8, cylinderD: -4, axisDeg: 30 }, { sphereD: -8, cylinderD: -4, axisDeg: 40 }])
 */
export function meanRefraction(refractions: readonly SphereCylinder[]): MeanRefraction {
  if (refractions.length === 0) {
    throw new CalculationError('input.missing', 'refractions', [], 'at least one refraction');
  }
  const vectors = refractions.map((r) => powerVector(r));
  const n = vectors.length;
  const rows = vectors.map((v) => [v.meanD, v.j0D, v.j45D] as const);
  const mean = [0, 1, 2].map((k) => rows.reduce((sum, r) => sum + r[k as 0], 0) / n) as [
    number,
    number,
    number,
  ];
  const base = {
    mean: fromComponents(mean[0], mean[1], mean[2]),
    count: n,
    greatestDifferenceD: greatestDifference(vectors),
  };
  if (n === 1) return base;
  const cov = (i: 0 | 1 | 2, k: 0 | 1 | 2): number =>
    rows.reduce((sum, r) => sum + (r[i] - mean[i]) * (r[k] - mean[k]), 0) / (n - 1);
  const covariance = ([0, 1, 2] as const).map(
    (i) => [cov(i, 0), cov(i, 1), cov(i, 2)] as [number, number, number],
  );
  return {
    ...base,
    sd: {
      meanD: Math.sqrt(cov(0, 0)),
      j0D: Math.sqrt(cov(1, 1)),
      j45D: Math.sqrt(cov(2, 2)),
    },
    covariance,
    ellipse: spreadEllipse(cov(1, 1), cov(1, 2), cov(2, 2)),
  };
}

/**
 * The standard ellipse of a 2x2 covariance of J0 and J45, in D.
 * Throws CalculationError for variances or a covariance that cannot be.
 * @source eigenvalues of a symmetric 2x2 matrix; Thibos & Horner. J Cataract Refract Surg 2001;27:80-85
 * @example spreadEllipse(0.04, 0, 0.01) // semiMajorD 0.2, semiMinorD 0.1, directionDeg 0
 */
export function spreadEllipse(varianceJ0: number, covariance: number, varianceJ45: number): SpreadEllipse {
  const variance = { min: 0, max: 1e6, unit: 'D²' };
  requireNumber('varianceJ0', varianceJ0, variance);
  requireNumber('varianceJ45', varianceJ45, variance);
  requireNumber('covariance', covariance, { ...variance, min: -variance.max });
  const middle = (varianceJ0 + varianceJ45) / 2;
  const radius = Math.hypot((varianceJ0 - varianceJ45) / 2, covariance);
  const direction = (Math.atan2(covariance, (varianceJ0 - varianceJ45) / 2) * 90) / Math.PI;
  return {
    semiMajorD: Math.sqrt(Math.max(0, middle + radius)),
    // Rounding can leave a hair below zero when all points lie on a line.
    semiMinorD: Math.sqrt(Math.max(0, middle - radius)),
    directionDeg: direction < 0 ? direction + 180 : direction,
  };
}

function greatestDifference(vectors: readonly PowerVector[]): number {
  let greatest = 0;
  vectors.forEach((a, i) => {
    for (const b of vectors.slice(i + 1)) {
      const apart = Math.hypot(a.meanD - b.meanD, a.j0D - b.j0D, a.j45D - b.j45D);
      if (apart > greatest) greatest = apart;
    }
  });
  return greatest;
}
