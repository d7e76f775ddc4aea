import { sphericalEquivalentD } from '../optics/power-vector.js';
import { binSigned, binUp, type Bin } from './bins.js';
import { describeSample, type SampleSummary } from './describe-sample.js';
import { studentQuantile } from './distributions.js';
import type { JudgedEye, OutcomeEye } from './outcome-eye.js';
import { linearRegression } from './regression.js';
import { sharesWithin } from './standard-figures.js';
import { scheduledVisits } from './visit-schedule.js';
import { wilsonInterval, type Proportion } from './wilson.js';

/** A straight line through points, without what a screen cannot carry. */
export interface FittedLine {
  readonly slope: number;
  readonly slopeLow: number;
  readonly slopeHigh: number;
  readonly intercept: number;
  readonly rSquared: number;
  readonly residualSd: number;
}

/** One eye in a plot of points. */
export interface FigurePoint {
  readonly id: string;
  readonly x: number;
  readonly y: number;
}

/** Attempted (x) against achieved (y) change, with the line through them; null line below three different eyes. */
export interface ScatterFigure {
  readonly n: number;
  readonly points: readonly FigurePoint[];
  readonly line: FittedLine | null;
}

/** Attempted against achieved spherical equivalent, and how many eyes got too little or too much. */
export interface AttemptedAchievedFigure extends ScatterFigure {
  /** More than 0.50 D of myopia left over the aim, and more than 0.50 D taken away beyond it. */
  readonly under: Proportion;
  readonly over: Proportion;
}

/** How near the aim the spherical equivalent came. */
export interface AccuracyFigure {
  readonly n: number;
  readonly bins: readonly Bin[];
  readonly within: readonly (Proportion & { readonly within: number })[];
  readonly errorD: SampleSummary;
}

/** Spherical equivalent over time. */
export interface StabilityFigure {
  readonly rows: readonly {
    /** `before`, or the scheduled visit. */
    readonly code: string;
    readonly day: number | null;
    readonly n: number;
    readonly meanD: number;
    readonly sdD: number;
    /** 95 % limits of the mean; none for a single eye. */
    readonly lowD: number | null;
    readonly highD: number | null;
  }[];
  /** Share of eyes that moved by more than 0.50 D between month 3 and month 12; null without such eyes. */
  readonly moved: Proportion | null;
}

/** Cylinder of the refraction before and after. */
export interface CylinderFigure {
  readonly n: number;
  readonly before: readonly Bin[];
  readonly after: readonly Bin[];
  readonly withinAfter: readonly (Proportion & { readonly within: number })[];
}

/**
 * A line through the points of a plot, or null where there is none: fewer than three points, or all at one x.
 * Throws CalculationError for a point that is not finite.
 * @source ordinary least squares
 * @example lineThrough(points)?.slope
 */
export function lineThrough(points: readonly FigurePoint[]): FittedLine | null {
  if (points.length < 3 || points.every(({ x }) => x === points[0]?.x)) return null;
  const { slope, slopeLow, slopeHigh, intercept, rSquared, residualSd } = linearRegression(points);
  return { slope, slopeLow, slopeHigh, intercept, rSquared, residualSd };
}

/**
 * Attempted against achieved change of spherical equivalent; null without eyes. Throws nothing of its own.
 * @source Waring. J Refract Surg 2000;16:459-466 (from memory)
 * @example attemptedAchievedFigure(judged)?.line?.slope
 */
export function attemptedAchievedFigure(eyes: readonly JudgedEye[]): AttemptedAchievedFigure | null {
  if (eyes.length === 0) return null;
  const points = eyes.map(({ eye, attemptedD, achievedD }) => ({ id: eye.id, x: attemptedD, y: achievedD }));
  const share = (sign: 1 | -1): Proportion =>
    wilsonInterval(eyes.filter(({ errorD }) => sign * errorD > 0.5 + 1e-9).length, eyes.length);
  return { n: eyes.length, points, line: lineThrough(points), under: share(-1), over: share(1) };
}

/**
 * Accuracy of the spherical equivalent; null without eyes. Throws nothing of its own.
 * @source bars: Reinstein, Archer & Randleman. J Refract Surg 2014;30 (from memory)
 * @example accuracyFigure(judged)?.within.find(({ within }) => within === 0.5)?.share
 */
export function accuracyFigure(eyes: readonly JudgedEye[]): AccuracyFigure | null {
  if (eyes.length === 0) return null;
  const errors = eyes.map(({ errorD }) => errorD);
  return {
    n: eyes.length,
    bins: binSigned(errors, [0.13, 0.5, 1, 1.5]),
    within: sharesWithin(errors, [0.25, 0.5, 1, 2]),
    errorD: describeSample(errors),
  };
}

/**
 * Spherical equivalent before and at each visit of the schedule, from all eyes that have one there.
 * Throws CalculationError for a schedule that does not rise.
 * @source Waring. J Refract Surg 2000;16:459-466 (from memory)
 * @example stabilityFigure(eyes).rows[0].code // 'before'
 */
export function stabilityFigure(eyes: readonly OutcomeEye[], visitDays?: readonly number[]): StabilityFigure {
  const last = Math.max(0, ...eyes.flatMap(({ visits }) => visits.map(({ daysAfter }) => daysAfter)));
  const windows = scheduledVisits(last, visitDays);
  const at = (eye: OutcomeEye, fromDay: number, toDay: number): number | null => {
    const found = eye.visits
      .filter(({ daysAfter, refraction }) => refraction && daysAfter >= fromDay && daysAfter <= toDay)
      .at(-1)?.refraction;
    return found === undefined ? null : sphericalEquivalentD(found);
  };
  const present = (values: readonly (number | null)[]): number[] => values.filter((value) => value !== null);
  const rows = [
    { code: 'before', day: null, values: eyes.map(({ before }) => sphericalEquivalentD(before.refraction)) },
    ...windows.map(({ code, day, fromDay, toDay }) => ({
      code,
      day,
      values: present(eyes.map((eye) => at(eye, fromDay, toDay))),
    })),
  ];
  const [early, late] = ['month-3', 'month-12'].map((code) => windows.find((window) => window.code === code));
  const moves = eyes.flatMap((eye) => {
    if (early === undefined || late === undefined) return [];
    const [from, to] = [at(eye, early.fromDay, early.toDay), at(eye, late.fromDay, late.toDay)];
    return from === null || to === null ? [] : [Math.abs(to - from)];
  });
  return {
    rows: rows
      .filter(({ values }) => values.length > 0)
      .map(({ code, day, values }) => stabilityRow(code, day, values)),
    moved:
      moves.length === 0
        ? null
        : wilsonInterval(moves.filter((move) => move > 0.5 + 1e-9).length, moves.length),
  };
}

function stabilityRow(code: string, day: number | null, values: readonly number[]) {
  const { n, mean, sd } = describeSample(values);
  const reach = n < 2 ? null : (studentQuantile(0.975, n - 1) * sd) / Math.sqrt(n);
  return {
    code,
    day,
    n,
    meanD: mean,
    sdD: sd,
    lowD: reach === null ? null : mean - reach,
    highD: reach === null ? null : mean + reach,
  };
}

/**
 * Cylinder of the refraction before and after; null without eyes. Throws nothing of its own.
 * @source Reinstein, Archer & Randleman. J Refract Surg 2014;30 (from memory); bars from 2 D up for high cylinders: own choice
 * @example cylinderFigure(judged)?.withinAfter[1].share // 0.50 D or less
 */
export function cylinderFigure(eyes: readonly JudgedEye[]): CylinderFigure | null {
  if (eyes.length === 0) return null;
  const limits = [0.25, 0.5, 0.75, 1, 1.5, 2, 3, 4, 6];
  return {
    n: eyes.length,
    before: binUp(
      eyes.map(({ cylinderBeforeD }) => cylinderBeforeD),
      limits,
    ),
    after: binUp(
      eyes.map(({ cylinderAfterD }) => cylinderAfterD),
      limits,
    ),
    withinAfter: sharesWithin(
      eyes.map(({ cylinderAfterD }) => cylinderAfterD),
      [0.25, 0.5, 1, 2],
    ),
  };
}
