import { CalculationError, requireNumber } from '../calculation-error.js';
import { sphericalEquivalentD } from '../optics/power-vector.js';
import type { Refraction, SphereCylinder } from '../optics/types.js';
import { MEASURED_VAULT_UM } from '../sizing/sizing-eye.js';
import {
  analyseVectors,
  refractiveAstigmatism,
  type Astigmatism,
  type VectorAnalysis,
} from './vector-analysis.js';

/** Acuities in logMAR; what was not taken is left out. */
export interface Acuities {
  readonly correctedLogMar?: number | undefined;
  readonly uncorrectedLogMar?: number | undefined;
}

/** One visit after surgery. */
export interface OutcomeVisit extends Acuities {
  /** Days after the surgery that the report is about. */
  readonly daysAfter: number;
  readonly refraction?: Refraction | undefined;
  readonly vaultUm?: number | undefined;
}

/** One eye as a report wants it: before, what was aimed at, and what came. */
export interface OutcomeEye {
  readonly id: string;
  /** Two eyes of one patient have the same. */
  readonly patient: string;
  readonly before: Acuities & { readonly refraction: Refraction };
  /** The refraction aimed at, at the spectacle plane. */
  readonly target: SphereCylinder;
  readonly visits: readonly OutcomeVisit[];
}

/** An eye at the visit it is judged by: the latest one with a refraction that is late enough. */
export interface JudgedEye {
  readonly eye: OutcomeEye;
  readonly visit: OutcomeVisit & { readonly refraction: Refraction };
  /** Change of spherical equivalent, spectacle plane: positive takes myopia away. */
  readonly attemptedD: number;
  readonly achievedD: number;
  /** Spherical equivalent less the one aimed at. */
  readonly errorD: number;
  /** Cylinder of the refraction, 0 or more, before and after. */
  readonly cylinderBeforeD: number;
  readonly cylinderAfterD: number;
  /** Astigmatism at the corneal plane. */
  readonly before: Astigmatism;
  readonly after: Astigmatism;
  readonly vectors: VectorAnalysis;
}

const DAYS = { min: 0, max: 36_525, unit: 'days' };
const LOG_MAR = { min: -0.5, max: 2.5, unit: 'logMAR' };

function requireAcuities(field: string, { correctedLogMar, uncorrectedLogMar }: Acuities): void {
  for (const [name, value] of Object.entries({ correctedLogMar, uncorrectedLogMar })) {
    if (value !== undefined) requireNumber(`${field}.${name}`, value, LOG_MAR);
  }
}

/**
 * Judges an eye by its latest refraction at least `minimumDays` after surgery; null when there is none yet.
 * Throws CalculationError for a number that cannot be.
 * @source terms: Waring. J Refract Surg 2000;16:459-466 (from memory); vectors: Alpins 2001
 * @example judgeEye(eye, 365)?.errorD
 */
export function judgeEye(eye: OutcomeEye, minimumDays: number): JudgedEye | null {
  requireNumber('minimumDays', minimumDays, DAYS);
  requireAcuities('before', eye.before);
  eye.visits.forEach((visit, i) => {
    requireNumber(`visits[${i}].daysAfter`, visit.daysAfter, DAYS);
    requireAcuities(`visits[${i}]`, visit);
    if (visit.vaultUm !== undefined) requireNumber(`visits[${i}].vaultUm`, visit.vaultUm, MEASURED_VAULT_UM);
  });
  const visit = eye.visits.reduce<JudgedEye['visit'] | null>(
    (best, next) =>
      next.refraction !== undefined &&
      next.daysAfter >= minimumDays &&
      (best === null || next.daysAfter > best.daysAfter)
        ? { ...next, refraction: next.refraction }
        : best,
    null,
  );
  return visit === null ? null : judgedAt(eye, visit);
}

function judgedAt(eye: OutcomeEye, visit: JudgedEye['visit']): JudgedEye {
  const { refraction } = eye.before;
  const [beforeD, targetD, afterD] = [refraction, eye.target, visit.refraction].map(sphericalEquivalentD) as [
    number,
    number,
    number,
  ];
  const before = refractiveAstigmatism(refraction);
  const after = refractiveAstigmatism(visit.refraction);
  const aim = refractiveAstigmatism({ ...eye.target, vertexMm: refraction.vertexMm });
  return {
    eye,
    visit,
    attemptedD: targetD - beforeD,
    achievedD: afterD - beforeD,
    errorD: afterD - targetD,
    cylinderBeforeD: Math.abs(refraction.cylinderD),
    cylinderAfterD: Math.abs(visit.refraction.cylinderD),
    before,
    after,
    vectors: analyseVectors(before, aim, after),
  };
}

/**
 * The eyes of a list that can be judged, and how many cannot yet.
 * Throws CalculationError for a number that cannot be, and for two eyes with one id.
 * @source none: judgeEye for many
 * @example judgeEyes(eyes, 365).tooEarly
 */
export function judgeEyes(
  eyes: readonly OutcomeEye[],
  minimumDays: number,
): { readonly judged: readonly JudgedEye[]; readonly tooEarly: number } {
  const seen = new Set<string>();
  const judged = eyes.flatMap((eye, i) => {
    if (seen.has(eye.id)) {
      throw new CalculationError('input.duplicate', `eyes[${i}].id`, eye.id, 'an id that no other eye has');
    }
    seen.add(eye.id);
    return judgeEye(eye, minimumDays) ?? [];
  });
  return { judged, tooEarly: eyes.length - judged.length };
}
