import { CalculationError } from '../calculation-error.js';

/** One observation: the inputs, in a fixed order, and what was measured. */
export interface RegressionRow {
  readonly x: readonly number[];
  readonly y: number;
}

/**
 * Everything that a linear regression needs to know of its rows. Sums of several clinics add up, so that
 * a model can be learned from all of them while no row leaves any.
 */
export interface RegressionSums {
  readonly n: number;
  /** Sums of products of inputs, a square matrix. */
  readonly xx: readonly (readonly number[])[];
  readonly xy: readonly number[];
  readonly yy: number;
}

/**
 * The sums of rows of one width; of no rows when the list is empty.
 * Throws CalculationError for a row of another width or a number that is not finite.
 * @source definition of the sufficient statistics of the normal linear model
 * @example regressionSums(2, [{ x: [1, 3], y: 5 }]).xy // [5, 15]
 */
export function regressionSums(width: number, rows: readonly RegressionRow[]): RegressionSums {
  const xx = Array.from({ length: width }, () => new Array<number>(width).fill(0));
  const xy = new Array<number>(width).fill(0);
  let yy = 0;
  rows.forEach((row, index) => {
    requireRow(row, width, index);
    row.x.forEach((a, i) => {
      xy[i] = (xy[i] as number) + a * row.y;
      const line = xx[i] as number[];
      row.x.forEach((b, j) => (line[j] = (line[j] as number) + a * b));
    });
    yy += row.y * row.y;
  });
  return { n: rows.length, xx, xy, yy };
}

function requireRow({ x, y }: RegressionRow, width: number, index: number): void {
  if (x.length !== width) {
    throw new CalculationError('input.wrong-type', `rows[${index}].x`, x, `a list of ${width} numbers`);
  }
  const bad = [...x, y].find((value) => typeof value !== 'number' || !Number.isFinite(value));
  if (bad !== undefined) {
    throw new CalculationError('input.not-a-number', `rows[${index}]`, bad, 'finite numbers only');
  }
}

/**
 * Sums added, the second ones `sign` times: 1 pools two clinics, -1 takes a row out again.
 * Throws CalculationError for sums of different widths.
 * @source definition of the sufficient statistics of the normal linear model
 * @example addSums(clinicA, clinicB).n // eyes of both
 */
export function addSums(first: RegressionSums, second: RegressionSums, sign: 1 | -1 = 1): RegressionSums {
  if (first.xy.length !== second.xy.length) {
    throw new CalculationError(
      'input.contradiction',
      'second.xy',
      second.xy,
      `a list of ${first.xy.length} numbers, as in the first sums`,
    );
  }
  return {
    n: first.n + sign * second.n,
    xx: first.xx.map((row, i) => row.map((value, j) => value + sign * (second.xx[i]?.[j] as number))),
    xy: first.xy.map((value, i) => value + sign * (second.xy[i] as number)),
    yy: first.yy + sign * second.yy,
  };
}
