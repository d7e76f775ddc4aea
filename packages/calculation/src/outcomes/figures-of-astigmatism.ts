import { bootstrapInterval, type BootstrapInterval } from './bootstrap.js';
import { binSigned, type Bin } from './bins.js';
import { describeSample, meanOf, type SampleSummary } from './describe-sample.js';
import { summariseDoubleAngle, type DoubleAngleSummary } from './double-angle-plot.js';
import { resamplesFor } from './figures-of-acuity.js';
import { lineThrough, type FigurePoint, type ScatterFigure } from './figures-of-refraction.js';
import type { JudgedEye } from './outcome-eye.js';
import { doubleAngle, type Astigmatism } from './vector-analysis.js';

/** Turn between intended and induced change: negative is clockwise as one faces the eye. */
export interface AngleOfErrorFigure {
  readonly n: number;
  readonly bins: readonly Bin[];
  readonly arithmeticDeg: SampleSummary;
  readonly absoluteDeg: SampleSummary;
}

/** A double-angle plot: points in dioptres, and centroid with ellipses from three eyes on. */
export interface DoubleAngleFigure {
  readonly n: number;
  readonly points: readonly FigurePoint[];
  readonly summary: DoubleAngleSummary | null;
}

/**
 * Intended against induced astigmatism, D at the corneal plane; null without eyes. Throws nothing of its own.
 * @source Reinstein, Archer & Randleman. J Refract Surg 2014;30 (from memory); vectors: Alpins 2001
 * @example intendedInducedFigure(judged)?.line?.slope
 */
export function intendedInducedFigure(eyes: readonly JudgedEye[]): ScatterFigure | null {
  if (eyes.length === 0) return null;
  const points = eyes.map(({ eye, vectors }) => ({
    id: eye.id,
    x: vectors.targetInduced.magnitudeD,
    y: vectors.surgicallyInduced.magnitudeD,
  }));
  return { n: eyes.length, points, line: lineThrough(points) };
}

/**
 * Angles of error of the eyes that have one; null without such eyes. Throws nothing of its own.
 * @source bars: Reinstein, Archer & Randleman. J Refract Surg 2014;30 (from memory)
 * @example angleOfErrorFigure(judged)?.absoluteDeg.mean
 */
export function angleOfErrorFigure(eyes: readonly JudgedEye[]): AngleOfErrorFigure | null {
  const angles = eyes.flatMap(({ vectors }) => vectors.indices?.angleOfErrorDeg ?? []);
  if (angles.length === 0) return null;
  return {
    n: angles.length,
    bins: binSigned(angles, [5, 15, 25, 35, 45]),
    arithmeticDeg: describeSample(angles),
    absoluteDeg: describeSample(angles.map(Math.abs)),
  };
}

/**
 * A double-angle plot of one astigmatism of each eye. Throws nothing of its own.
 * @source Abulafia, Koch, Holladay, Wang & Hill. J Cataract Refract Surg 2018;44:1169-1174 (from memory)
 * @example doubleAngleFigure(judged, ({ after }) => after).summary?.centroid
 */
export function doubleAngleFigure(
  eyes: readonly JudgedEye[],
  of: (eye: JudgedEye) => Astigmatism,
): DoubleAngleFigure {
  return {
    n: eyes.length,
    points: eyes.map((eye) => ({ id: eye.eye.id, ...doubleAngle(of(eye)) })),
    summary: eyes.length < 3 ? null : summariseDoubleAngle(eyes.map(of)),
  };
}

/**
 * Geometric mean of the correction index, the usual one for ratios, with its bootstrap interval; eyes of which
 * nothing was intended or nothing induced are left out. Null below two eyes. Throws nothing of its own.
 * @source Alpins. J Cataract Refract Surg 2001;27:31-49 (index); geometric mean: common practice, no source
 * @example correctionIndexFigure(judged)?.estimate
 */
export function correctionIndexFigure(eyes: readonly JudgedEye[]): BootstrapInterval | null {
  const logs = eyes.flatMap(({ vectors }) => {
    const index = vectors.indices?.correction ?? 0;
    return index > 0 ? [Math.log(index)] : [];
  });
  if (logs.length < 2) return null;
  return bootstrapInterval(logs, (drawn) => Math.exp(meanOf(drawn)), {
    resamples: resamplesFor(logs.length),
  });
}

/**
 * Mean index of success (0 is perfect) with its bootstrap interval; null below two eyes. Throws nothing of its own.
 * @source Alpins. J Cataract Refract Surg 2001;27:31-49
 * @example successIndexFigure(judged)?.estimate
 */
export function successIndexFigure(eyes: readonly JudgedEye[]): BootstrapInterval | null {
  const values = eyes.flatMap(({ vectors }) => vectors.indices?.success ?? []);
  if (values.length < 2) return null;
  return bootstrapInterval(values, meanOf, { resamples: resamplesFor(values.length) });
}
