import { requireNumber } from '../calculation-error.js';
import { normalQuantile } from './normal.js';

/**
 * Sobol direction numbers for dimensions 2 to 12: degree, polynomial and first numbers of each.
 * @source Joe & Kuo. SIAM J Sci Comput 2008;30:2635-2654 (new-joe-kuo-6.21201)
 */
const DIRECTIONS: readonly { a: number; m: readonly number[] }[] = [
  { a: 0, m: [1] },
  { a: 1, m: [1, 3] },
  { a: 1, m: [1, 3, 1] },
  { a: 2, m: [1, 1, 1] },
  { a: 1, m: [1, 1, 3, 3] },
  { a: 4, m: [1, 3, 5, 13] },
  { a: 2, m: [1, 1, 5, 5, 17] },
  { a: 4, m: [1, 1, 5, 5, 5] },
  { a: 7, m: [1, 1, 7, 11, 19] },
  { a: 11, m: [1, 1, 5, 1, 1] },
  { a: 13, m: [1, 1, 1, 3, 11] },
];

/** Most dimensions that `sobolPoints` gives. */
export const MOST_DIMENSIONS = DIRECTIONS.length + 1;

const BITS = 32;

/**
 * The first `count` points of a Sobol sequence with a digital shift by `seed`, point after point.
 * Every coordinate lies in the middle of one of 2^m equal cells, 2^m being the first power of two
 * that is not below `count`. The same arguments always give the same points.
 * Throws CalculationError for more than 12 dimensions or a count outside 1 to 1 000 000.
 * @source Sobol 1967; Antonov & Saleev 1979 (Gray code order); Joe & Kuo 2008 (directions)
 * @example sobolPoints(4, 2, 1).length // 8
 */
export function sobolPoints(count: number, dimensions: number, seed: number): Float64Array {
  return pointsIn(count, dimensions, seed, (cells) => {
    const middles = new Float64Array(cells);
    for (let k = 0; k < cells; k += 1) middles[k] = (k + 0.5) / cells;
    return middles;
  });
}

let cachedKey = '';
let cachedNormals = new Float64Array(0);

/**
 * The points of `sobolPoints` turned into standard normal values. The last table asked for is kept,
 * because a person who tries plans asks for the same one again and again.
 */
export function normalPoints(count: number, dimensions: number, seed: number): Float64Array {
  const key = `${count}/${dimensions}/${seed}`;
  if (key === cachedKey) return cachedNormals;
  cachedNormals = pointsIn(count, dimensions, seed, cellQuantiles);
  cachedKey = key;
  return cachedNormals;
}

/** The normal quantile in the middle of each cell; the upper half by symmetry. */
function cellQuantiles(cells: number): Float64Array {
  const quantiles = new Float64Array(cells);
  for (let k = 0; k < cells / 2; k += 1) {
    const z = normalQuantile((k + 0.5) / cells);
    quantiles[k] = z;
    quantiles[cells - 1 - k] = -z;
  }
  return quantiles;
}

/** Looks each coordinate's cell up in a table: all coordinates share the same cells. */
function pointsIn(
  count: number,
  dimensions: number,
  seed: number,
  tableOf: (cells: number) => Float64Array,
): Float64Array<ArrayBuffer> {
  requireNumber('samples', count, { min: 1, max: 1_000_000, unit: 'samples' });
  requireNumber('dimensions', dimensions, { min: 1, max: MOST_DIMENSIONS, unit: 'dimensions' });
  requireNumber('seed', seed, { min: 0, max: 2 ** 32 - 1, unit: '' });
  const bits = Math.max(1, Math.ceil(Math.log2(count)));
  const table = tableOf(2 ** bits);
  const points = new Float64Array(count * dimensions);
  for (let d = 0; d < dimensions; d += 1) {
    const directions = directionNumbers(d);
    let state = shift(seed, d);
    for (let i = 0, at = d; i < count; i += 1, at += dimensions) {
      points[at] = table[state >>> (BITS - bits)] as number;
      state ^= directions[31 - Math.clz32(~i & (i + 1))] as number;
    }
  }
  return points;
}

function directionNumbers(dimension: number): Int32Array {
  const v = new Int32Array(BITS);
  const entry = DIRECTIONS[dimension - 1];
  const m: number[] = entry === undefined ? [] : [...entry.m];
  const degree = m.length;
  for (let k = 0; k < BITS; k += 1) {
    if (entry === undefined) {
      v[k] = 1 << (BITS - 1 - k);
      continue;
    }
    if (k < degree) {
      v[k] = (m[k] ?? 0) << (BITS - 1 - k);
      continue;
    }
    let next = (v[k - degree] ?? 0) ^ ((v[k - degree] ?? 0) >>> degree);
    for (let j = 1; j < degree; j += 1) {
      if (((entry.a >> (degree - 1 - j)) & 1) === 1) next ^= v[k - j] ?? 0;
    }
    v[k] = next;
  }
  return v;
}

/** A fixed 32-bit scramble of seed and dimension (the finalizer of MurmurHash3). */
function shift(seed: number, dimension: number): number {
  let h = (seed ^ Math.imul(dimension + 1, 0x9e3779b9)) | 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return h ^ (h >>> 16);
}
