import { requireNumber } from '../calculation-error.js';
import { wilsonInterval, type Proportion } from './wilson.js';

/** A bar of a histogram with its limits; null means open. The bar that holds 0 is closed at both ends. */
export interface Bin extends Proportion {
  readonly from: number | null;
  readonly to: number | null;
}

/** Steps that were subtracted may miss a limit by their last binary digits. */
const HAIR = 1e-9;

/**
 * Counts values in bars that mirror each other about 0: limits 0.5 and 1 give below -1, to -0.5, to 0.5, to 1, above.
 * A value on a limit belongs to the bar nearer to 0. Throws CalculationError for an empty list or limits that do not rise.
 * @source none: counting
 * @example binSigned([-0.6, 0, 0.5], [0.5, 1])[2].count // 2
 */
export function binSigned(values: readonly number[], limits: readonly number[]): Bin[] {
  requireLimits(limits);
  const ends = [null, ...limits.map((limit) => -limit).reverse(), ...limits, null];
  return ends.slice(1).map((to, i) => {
    const from = ends[i] ?? null;
    const side = to !== null && to < 0 ? -1 : from !== null && from > 0 ? 1 : 0;
    const sizes = [from, to].map((end) => (end === null ? Infinity : Math.abs(end)));
    const [near, far] = side === 0 ? [-1, sizes[1] as number] : [Math.min(...sizes), Math.max(...sizes)];
    const count = values.filter((value) => {
      const size = Math.abs(value);
      return (side === 0 || Math.sign(value) === side) && size > near + HAIR && size <= far + HAIR;
    }).length;
    return { from, to, ...wilsonInterval(count, values.length) };
  });
}

/**
 * Counts values of 0 or more in bars that end at each limit; a value on a limit belongs to the bar below it.
 * Throws CalculationError for an empty list or limits that do not rise.
 * @source none: counting
 * @example binUp([0, 0.25, 0.3], [0.25, 0.5])[0].count // 2
 */
export function binUp(values: readonly number[], limits: readonly number[]): Bin[] {
  requireLimits(limits);
  return [...limits, null].map((to, i) => {
    const from = i === 0 ? null : (limits[i - 1] as number);
    const count = values.filter(
      (value) => (from === null || value > from + HAIR) && (to === null || value <= to + HAIR),
    ).length;
    return { from, to, ...wilsonInterval(count, values.length) };
  });
}

function requireLimits(limits: readonly number[]): void {
  limits.forEach((limit, i) =>
    requireNumber(`limits[${i}]`, limit, {
      min: i === 0 ? Number.MIN_VALUE : (limits[i - 1] as number) + HAIR,
      max: 1e6,
      unit: '',
    }),
  );
}
