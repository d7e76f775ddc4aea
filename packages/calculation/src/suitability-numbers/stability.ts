import { requireNumber } from '../calculation-error.js';
import { powerVector } from '../optics/power-vector.js';
import type { PowerVector, SphereCylinder } from '../optics/types.js';
import type { Reason } from '../sizing/vault-basis.js';
import { normalBelow } from '../uncertainty/normal.js';
import { DEFAULT_SPREADS } from '../uncertainty/spreads.js';
import { fitLine } from './fit-line.js';
import { chiSquare3Above, requireNoise } from './refraction-change.js';

/** Stable, changing, or not enough data to say either. */
export type StabilityVerdict = 'stable' | 'changing' | 'not-enough-data';

/** A value over time, judged against the noise of measuring it. */
export interface Stability {
  readonly verdict: StabilityVerdict;
  readonly visits: number;
  readonly spanDays: number;
  /** Change per year with its 95 % limits, in the unit of the value (mean power for refractions). */
  readonly perYear?: { readonly estimate: number; readonly low: number; readonly high: number };
  /** Smallest change over the whole time that would have been noticed, in the same unit. */
  readonly detectable?: number;
  /** Chance, 0 to 1, that noise alone makes a trend this large. */
  readonly chanceByNoise?: number;
  readonly reasons: readonly Reason[];
}

/** Settings of the stability judgement. */
export interface StabilitySettings {
  /** Least time between first and last visit: six months (common practice, no source). */
  readonly leastDays: number;
  /** Only visits whose data could have shown a change of this size over the time can say stable. */
  readonly mustDetect: number;
}

/** A refraction with its day, counted from any fixed day. */
export interface RefractionVisit {
  readonly day: number;
  readonly refraction: SphereCylinder;
}

/** A single reading, such as Kmax or flat K, with its day. */
export interface ReadingVisit {
  readonly day: number;
  readonly value: number;
}

/** Standard deviations of one reading in keratoconus, in D (61 eyes, portal.research.lu.se). */
export const READING_NOISE = { kmaxD: 1.23, flatD: 0.51 } as const;

/**
 * Whether refractions over time are stable: a line through each power-vector component, its slopes
 * together against the noise (χ², three degrees of freedom). Stable is only said where a change of
 * `mustDetect` (2.00 D of mean power by default) would have been noticed.
 * Throws CalculationError naming field, value and range.
 * @source noise J Ophthalmol 2020;2020:4831298; six months common practice
 * @example refractionStability([{ day: 0, refraction }, { day: 200, refraction }]).verdict // 'stable'
 */
export function refractionStability(
  visits: readonly RefractionVisit[],
  noise: PowerVector = DEFAULT_SPREADS.refraction,
  settings: Partial<StabilitySettings> = {},
): Stability {
  requireNoise(noise);
  const s = { leastDays: 180, mustDetect: 2, ...settings };
  const early = tooLittle(visits, s);
  if (early !== undefined) return early;
  const vectors = visits.map((v) => powerVector(v.refraction));
  const line = (key: keyof PowerVector): ReturnType<typeof fitLine> =>
    fitLine(
      visits.map((v, i) => ({ x: v.day / 365.25, y: vectors[i]?.[key] ?? 0 })),
      noise[key],
    );
  const lines = (['meanD', 'j0D', 'j45D'] as const).map(line);
  const chiSquare = lines.reduce((sum, l) => sum + (l.slope / l.slopeSe) ** 2, 0);
  const mean = lines[0] as ReturnType<typeof fitLine>;
  return judged(visits, mean, chiSquare3Above(chiSquare), s, 'D of mean power');
}

/**
 * The same for a single reading over time with known noise, such as Kmax (`READING_NOISE.kmaxD`).
 * `mustDetect` is 2.5 in the reading's unit by default.
 * Throws CalculationError naming field, value and range.
 * @source noise of Kmax and flat K in keratoconus, 61 eyes, portal.research.lu.se
 * @example readingStability([{ day: 0, value: 54 }, { day: 365, value: 60 }], READING_NOISE.kmaxD).verdict // 'changing'
 */
export function readingStability(
  visits: readonly ReadingVisit[],
  noiseSd: number,
  settings: Partial<StabilitySettings> = {},
): Stability {
  requireNumber('noiseSd', noiseSd, { min: 1e-6, max: 1000, unit: '' });
  const s = { leastDays: 180, mustDetect: 2.5, ...settings };
  visits.forEach((v, i) => {
    requireNumber(`visits[${i}].value`, v.value, { min: -1e5, max: 1e5, unit: '' });
  });
  const early = tooLittle(visits, s);
  if (early !== undefined) return early;
  const line = fitLine(
    visits.map((v) => ({ x: v.day / 365.25, y: v.value })),
    noiseSd,
  );
  const z = line.slope / line.slopeSe;
  return judged(visits, line, chanceBeyond(z), s, 'of the reading');
}

function chanceBeyond(z: number): number {
  // χ² with one degree of freedom is a squared normal value.
  return 2 * normalBelow(-Math.abs(z));
}

function tooLittle(visits: readonly { readonly day: number }[], s: StabilitySettings): Stability | undefined {
  requireNumber('settings.leastDays', s.leastDays, { min: 1, max: 36500, unit: 'days' });
  requireNumber('settings.mustDetect', s.mustDetect, { min: 0, max: 1e5, unit: '' });
  visits.forEach((v, i) => {
    requireNumber(`visits[${i}].day`, v.day, { min: -1e6, max: 1e6, unit: 'days' });
  });
  const spanDays = spanOf(visits);
  if (visits.length >= 2 && spanDays >= s.leastDays) return undefined;
  const message =
    visits.length < 2
      ? 'One visit cannot show whether anything changes; measure again later.'
      : `The visits span ${spanDays} days; at least ${s.leastDays} are needed.`;
  return {
    verdict: 'not-enough-data',
    visits: visits.length,
    spanDays,
    reasons: [{ code: 'stability.too-short', message }],
  };
}

function judged(
  visits: readonly { readonly day: number }[],
  line: ReturnType<typeof fitLine>,
  chanceByNoise: number,
  s: StabilitySettings,
  unit: string,
): Stability {
  const reach = 1.96 * line.slopeSe;
  const spanDays = spanOf(visits);
  const detectable = (reach * spanDays) / 365.25;
  const verdict: StabilityVerdict =
    chanceByNoise < 0.05 ? 'changing' : detectable <= s.mustDetect ? 'stable' : 'not-enough-data';
  const percent = `${(chanceByNoise * 100).toFixed(chanceByNoise < 0.01 ? 2 : 0)} %`;
  const message = {
    changing: `The change is more than measuring noise: noise alone would do this in ${percent} of eyes.`,
    stable: `No change beyond measuring noise in ${spanDays} days; ${detectable.toFixed(2)} ${unit} would have been noticed.`,
    'not-enough-data': `Nothing beyond measuring noise, but only a change of ${detectable.toFixed(2)} ${unit} would have been noticed; measure again.`,
  }[verdict];
  return {
    verdict,
    visits: visits.length,
    spanDays,
    perYear: { estimate: line.slope, low: line.slope - reach, high: line.slope + reach },
    detectable,
    chanceByNoise,
    reasons: [{ code: `stability.${verdict}`, message }],
  };
}

function spanOf(visits: readonly { readonly day: number }[]): number {
  if (visits.length === 0) return 0;
  const days = visits.map((v) => v.day);
  return Math.max(...days) - Math.min(...days);
}
