import { requireNumber, type NumberRange } from '../calculation-error.js';

const ANY: NumberRange = { min: -Number.MAX_VALUE, max: Number.MAX_VALUE, unit: '' };
const POSITIVE: NumberRange = { min: Number.MIN_VALUE, max: 1e9, unit: '' };

// Lanczos coefficients for g = 7, nine terms.
const LANCZOS = [
  0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
  12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
];

/**
 * Natural logarithm of the gamma function for x above 0, to about 14 digits.
 * @source Lanczos. SIAM J Numer Anal 1964;1:86-96 (coefficients as commonly used for g = 7)
 */
export function logGamma(x: number): number {
  requireNumber('x', x, POSITIVE);
  if (x < 0.5) return Math.log(Math.PI / Math.sin(Math.PI * x)) - logGamma(1 - x);
  const shifted = x - 1;
  const t = shifted + 7.5;
  let sum = LANCZOS[0] as number;
  for (let i = 1; i < LANCZOS.length; i += 1) sum += (LANCZOS[i] as number) / (shifted + i);
  return 0.5 * Math.log(2 * Math.PI) + (shifted + 0.5) * Math.log(t) - t + Math.log(sum);
}

const SMALL = 1e-300;
const PRECISION = 1e-16;
const MOST_TERMS = 100_000;

/** The chance that a gamma variable of this shape (scale 1) lies above x: regularised upper incomplete gamma. */
export function gammaAbove(shape: number, x: number): number {
  requireNumber('shape', shape, POSITIVE);
  requireNumber('x', x, { ...ANY, min: 0 });
  if (x === 0) return 1;
  const front = Math.exp(shape * Math.log(x) - x - logGamma(shape));
  if (x < shape + 1) {
    let term = 1 / shape;
    let sum = term;
    for (let n = 1; n < MOST_TERMS && term > sum * PRECISION; n += 1) sum += term *= x / (shape + n);
    return 1 - front * sum;
  }
  // Continued fraction, modified Lentz.
  let b = x + 1 - shape;
  let c = 1 / SMALL;
  let d = 1 / b;
  let h = d;
  for (let n = 1; n < MOST_TERMS; n += 1) {
    const a = -n * (n - shape);
    b += 2;
    d = 1 / nonZero(a * d + b);
    c = nonZero(b + a / c);
    h *= d * c;
    if (Math.abs(d * c - 1) < PRECISION) break;
  }
  return front * h;
}

function nonZero(x: number): number {
  return Math.abs(x) < SMALL ? SMALL : x;
}

/**
 * The chance that a chi-square variable lies above x.
 * @example chiSquareAbove(3.841459, 1) // 0.05
 */
export function chiSquareAbove(x: number, degreesOfFreedom: number): number {
  return gammaAbove(degreesOfFreedom / 2, Math.max(0, requireNumber('x', x, ANY)) / 2);
}

/** The chance that a beta variable lies below x: regularised incomplete beta, for a, b above 0 and x in 0 to 1. */
export function betaBelow(x: number, a: number, b: number): number {
  requireNumber('x', x, { min: 0, max: 1, unit: '' });
  requireNumber('a', a, POSITIVE);
  requireNumber('b', b, POSITIVE);
  if (x === 0 || x === 1) return x;
  const front = Math.exp(a * Math.log(x) + b * Math.log1p(-x) + logGamma(a + b) - logGamma(a) - logGamma(b));
  return x < (a + 1) / (a + b + 2)
    ? (front * betaFraction(x, a, b)) / a
    : 1 - (front * betaFraction(1 - x, b, a)) / b;
}

function betaFraction(x: number, a: number, b: number): number {
  let c = 1;
  let d = 1 / nonZero(1 - ((a + b) * x) / (a + 1));
  let h = d;
  for (let m = 1; m < MOST_TERMS; m += 1) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / nonZero(1 + even * d);
    c = nonZero(1 + even / c);
    h *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / nonZero(1 + odd * d);
    c = nonZero(1 + odd / c);
    h *= d * c;
    if (Math.abs(d * c - 1) < PRECISION) break;
  }
  return h;
}

/** The two-sided p value of a t statistic. */
export function studentTwoSided(t: number, degreesOfFreedom: number): number {
  requireNumber('t', t, ANY);
  return betaBelow(degreesOfFreedom / (degreesOfFreedom + t * t), degreesOfFreedom / 2, 0.5);
}

/** The t below which the chance is p, for p strictly between 0 and 1, by bisection on {@link studentTwoSided}. */
export function studentQuantile(p: number, degreesOfFreedom: number): number {
  requireNumber('p', p, { min: Number.MIN_VALUE, max: 1 - 2 ** -53, unit: '' });
  requireNumber('degreesOfFreedom', degreesOfFreedom, POSITIVE);
  if (p === 0.5) return 0;
  const tail = 2 * Math.min(p, 1 - p);
  let low = 0;
  let high = 1;
  while (studentTwoSided(high, degreesOfFreedom) > tail && high < 1e150) high *= 2;
  for (let i = 0; i < 200 && high - low > 1e-14 * high; i += 1) {
    const middle = (low + high) / 2;
    if (studentTwoSided(middle, degreesOfFreedom) > tail) low = middle;
    else high = middle;
  }
  return p < 0.5 ? -high : high;
}

/** The chance that an F variable lies above x. */
export function fAbove(x: number, numerator: number, denominator: number): number {
  requireNumber('x', x, { ...ANY, min: 0 });
  return betaBelow(denominator / (denominator + numerator * x), denominator / 2, numerator / 2);
}
