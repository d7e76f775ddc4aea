import { linesGained } from '../acuity/acuity.js';
import type { BootstrapInterval } from './bootstrap.js';
import { binSigned, type Bin } from './bins.js';
import type { JudgedEye } from './outcome-eye.js';
import { acuityIndex, cumulativeAcuity, linesChanged } from './standard-figures.js';
import { wilsonInterval, type Proportion } from './wilson.js';

/** Shares of eyes that see each line or better: unaided afterwards, and with spectacles before. */
export interface CumulativeAcuityFigure {
  readonly n: number;
  readonly rows: readonly {
    readonly logMar: number;
    readonly uncorrectedAfter: Proportion;
    readonly correctedBefore: Proportion;
  }[];
}

/** Lines between unaided acuity afterwards and spectacle acuity before; negative is worse. */
export interface UncorrectedAgainstCorrectedFigure {
  readonly n: number;
  readonly bins: readonly Bin[];
  /** Share of eyes that see unaided at least what spectacles gave them. */
  readonly sameOrBetter: Proportion;
}

/** Lines of corrected acuity gained or lost. */
export interface LinesChangedFigure {
  readonly n: number;
  readonly rows: readonly (Proportion & { readonly lines: number })[];
  readonly lostOne: Proportion;
  readonly lostTwo: Proportion;
}

interface Pair {
  readonly before: number;
  readonly after: number;
}

const pairs = (eyes: readonly JudgedEye[], after: 'correctedLogMar' | 'uncorrectedLogMar'): readonly Pair[] =>
  eyes.flatMap(({ eye, visit }) => {
    const [b, a] = [eye.before.correctedLogMar, visit[after]];
    return b === undefined || a === undefined ? [] : [{ before: b, after: a }];
  });

/**
 * Cumulative acuity of the eyes that have both acuities; null when none has. Throws nothing of its own.
 * @source Waring. J Refract Surg 2000;16:459-466; Reinstein, Archer & Randleman. J Refract Surg 2014;30 (from memory)
 * @example cumulativeAcuityFigure(judged)?.rows[1].uncorrectedAfter.share // 20/20 or better
 */
export function cumulativeAcuityFigure(eyes: readonly JudgedEye[]): CumulativeAcuityFigure | null {
  const both = pairs(eyes, 'uncorrectedLogMar');
  if (both.length === 0) return null;
  const before = cumulativeAcuity(both.map((pair) => pair.before));
  const after = cumulativeAcuity(both.map((pair) => pair.after));
  return {
    n: both.length,
    rows: after.map(({ logMar, ...uncorrectedAfter }, i) => {
      const { logMar: _line, ...correctedBefore } = before[i] as (typeof before)[number];
      return { logMar, uncorrectedAfter, correctedBefore };
    }),
  };
}

/**
 * Unaided acuity afterwards against spectacle acuity before, in whole lines; null without eyes that have both.
 * Throws nothing of its own.
 * @source Reinstein, Archer & Randleman. J Refract Surg 2014;30 (from memory)
 * @example uncorrectedAgainstCorrectedFigure(judged)?.sameOrBetter.share
 */
export function uncorrectedAgainstCorrectedFigure(
  eyes: readonly JudgedEye[],
): UncorrectedAgainstCorrectedFigure | null {
  const both = pairs(eyes, 'uncorrectedLogMar');
  if (both.length === 0) return null;
  const lines = both.map(({ before, after }) => Math.round(linesGained(before, after)) + 0);
  return {
    n: both.length,
    bins: binSigned(lines, [0.5, 1.5, 2.5]),
    sameOrBetter: wilsonInterval(lines.filter((line) => line >= 0).length, lines.length),
  };
}

/**
 * Lines of corrected acuity changed; null without eyes that have both. Throws nothing of its own.
 * @source Waring. J Refract Surg 2000;16:459-466 (from memory)
 * @example linesChangedFigure(judged)?.lostOne.share
 */
export function linesChangedFigure(eyes: readonly JudgedEye[]): LinesChangedFigure | null {
  const both = pairs(eyes, 'correctedLogMar');
  if (both.length === 0) return null;
  const rows = linesChanged(both.map(({ before, after }) => ({ beforeLogMar: before, afterLogMar: after })));
  const lost = (least: number): Proportion =>
    wilsonInterval(
      rows.filter(({ lines }) => lines <= -least).reduce((sum, { count }) => sum + count, 0),
      both.length,
    );
  return { n: both.length, rows, lostOne: lost(1), lostTwo: lost(2) };
}

/** Resamples: fewer where so many eyes leave little doubt that more would only cost time. */
export const resamplesFor = (n: number): number => (n > 1000 ? 400 : 2000);

/**
 * Efficacy (`uncorrectedLogMar`) or safety (`correctedLogMar`) index with its interval; null below two eyes.
 * Throws nothing of its own.
 * @source Koch, Kohnen, Obstbaum & Rosen. J Cataract Refract Surg 1998;24:285-287 (from memory)
 * @example indexFigure(judged, 'correctedLogMar')?.estimate
 */
export function indexFigure(
  eyes: readonly JudgedEye[],
  after: 'correctedLogMar' | 'uncorrectedLogMar',
): BootstrapInterval | null {
  const both = pairs(eyes, after);
  if (both.length < 2) return null;
  return acuityIndex(
    both.map((pair) => ({ correctedBefore: pair.before, after: pair.after })),
    { resamples: resamplesFor(both.length) },
  );
}
