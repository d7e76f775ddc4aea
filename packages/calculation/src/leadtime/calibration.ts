import { CalculationError, requireNumber } from '../calculation-error.js';
import { wilsonInterval, type Proportion } from '../outcomes/wilson.js';
import type { ArrivalForecast } from './forecast-arrival.js';
import { requireWholeDays } from './lead-time-record.js';

/** A forecast as it was made, and on which day from then the lens came. */
export interface ForecastAndArrival {
  readonly forecast: ArrivalForecast;
  /** Whole working days from the forecast, 1 or more. */
  readonly arrivedAfterDays: number;
}

/** How many arrivals fell inside the interval that was to hold `level` of them. */
export interface IntervalCalibration extends Proportion {
  readonly level: number;
}

/**
 * Of the arrivals, the share that fell inside the central interval of the forecast made for them. A day at the
 * edge of an interval counts for the part of its chance that lies inside, so that whole days neither help nor
 * harm; a calibrated forecast reaches `level`.
 * Throws CalculationError when there is no arrival.
 * @source Czado, Gneiting & Held. Biometrics 2009;65:1254-1261 (probability integral for counts)
 */
export function intervalCalibration(pairs: readonly ForecastAndArrival[], level = 0.9): IntervalCalibration {
  requireNumber('level', level, { min: 0.01, max: 0.999, unit: '' });
  if (pairs.length === 0)
    throw new CalculationError('input.missing', 'pairs', undefined, 'at least one arrival');
  const [from, to] = [(1 - level) / 2, (1 + level) / 2];
  let inside = 0;
  pairs.forEach(({ forecast, arrivedAfterDays }, i) => {
    requireWholeDays(`pairs[${i}].arrivedAfterDays`, arrivedAfterDays, {
      min: 1,
      max: 1000,
      unit: 'working days',
    });
    const coming = 1 - forecast.chanceCancelled;
    const below = forecast.chanceBy(arrivedAfterDays - 1) / coming;
    const above = arrivedAfterDays > forecast.daily.length ? 1 : forecast.chanceBy(arrivedAfterDays) / coming;
    const overlap = Math.min(above, to) - Math.max(below, from);
    if (above > below) inside += Math.max(0, overlap) / (above - below);
    else if (below >= from && below <= to) inside += 1;
  });
  return { level, ...wilsonInterval(inside, pairs.length) };
}

/** A forecast chance, such as that of being here by the need-by date, and whether it came true. */
export interface ChanceAndEvent {
  readonly chance: number;
  readonly happened: boolean;
}

/** One group of forecast chances against what happened. */
export interface ReliabilityBand extends Proportion {
  /** Mean of the chances that were given. */
  readonly meanChance: number;
}

/** How far a series of forecast chances can be believed. */
export interface ReliabilityReport {
  /** Bands of equal width from 0 to 1; bands without a forecast are left out. */
  readonly bands: readonly ReliabilityBand[];
  /** Mean squared distance of chance and event: 0 is perfect, 0.25 is a coin. */
  readonly brierScore: number;
}

/**
 * Of the events forecast at about 90 %, how many happened: and so for each band of chances.
 * Throws CalculationError when there is none or a chance lies outside 0 to 1.
 * @source Brier. Mon Weather Rev 1950;78:1-3
 */
export function chanceReliability(pairs: readonly ChanceAndEvent[], bandCount = 10): ReliabilityReport {
  requireNumber('bandCount', bandCount, { min: 1, max: 100, unit: 'bands' });
  if (pairs.length === 0)
    throw new CalculationError('input.missing', 'pairs', undefined, 'at least one forecast');
  const groups = Array.from({ length: bandCount }, () => ({ n: 0, happened: 0, sum: 0 }));
  let squares = 0;
  pairs.forEach(({ chance, happened }, i) => {
    requireNumber(`pairs[${i}].chance`, chance, { min: 0, max: 1, unit: '' });
    const group = groups[Math.min(bandCount - 1, Math.floor(chance * bandCount))];
    if (!group) return;
    group.n += 1;
    group.sum += chance;
    if (happened) group.happened += 1;
    squares += (chance - (happened ? 1 : 0)) ** 2;
  });
  const bands = groups
    .filter(({ n }) => n > 0)
    .map(({ n, happened, sum }) => ({ meanChance: sum / n, ...wilsonInterval(happened, n) }));
  return { bands, brierScore: squares / pairs.length };
}
