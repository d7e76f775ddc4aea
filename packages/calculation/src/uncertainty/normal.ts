import { requireNumber } from '../calculation-error.js';

const ANY_NUMBER = { min: -Infinity, max: Infinity, unit: '' };
const DENSITY_AT_ZERO = 1 / Math.sqrt(2 * Math.PI);

/**
 * Density of the standard normal distribution; throws CalculationError for NaN.
 * @source definition of the distribution
 * @example normalDensity(0) // 0.39894
 */
export function normalDensity(z: number): number {
  requireNumber('z', z, ANY_NUMBER);
  return DENSITY_AT_ZERO * Math.exp((-z * z) / 2);
}

/**
 * Chance that a standard normal value lies below `z`, to about 15 digits; throws CalculationError for NaN.
 * @source Hart 1968 as given by West, Wilmott Magazine 2005;5:70-76
 * @example normalBelow(1.96) // 0.975
 */
export function normalBelow(z: number): number {
  requireNumber('z', z, ANY_NUMBER);
  const a = Math.abs(z);
  const tail = a > 37 ? 0 : Math.exp((-a * a) / 2) * tailRatio(a);
  return z > 0 ? 1 - tail : tail;
}

function tailRatio(a: number): number {
  if (a >= 7.07106781186547) {
    // Laplace's continued fraction, deep enough for full precision this far out.
    let fraction = a;
    for (let k = 24; k >= 1; k -= 1) fraction = a + k / fraction;
    return DENSITY_AT_ZERO / fraction;
  }
  let top = 3.52624965998911e-2 * a + 0.700383064443688;
  top = top * a + 6.37396220353165;
  top = top * a + 33.912866078383;
  top = top * a + 112.079291497871;
  top = top * a + 221.213596169931;
  top = top * a + 220.206867912376;
  let bottom = 8.83883476483184e-2 * a + 1.75566716318264;
  bottom = bottom * a + 16.064177579207;
  bottom = bottom * a + 86.7807322029461;
  bottom = bottom * a + 296.564248779674;
  bottom = bottom * a + 637.333633378831;
  bottom = bottom * a + 793.826512519948;
  bottom = bottom * a + 440.413735824752;
  return top / bottom;
}

/**
 * The standard normal value below which the chance is `p`, to about 15 digits. `p` lies strictly
 * between 0 and 1; anything else throws CalculationError.
 * @source Wichura. Algorithm AS 241, Appl Stat 1988;37:477-484
 * @example normalQuantile(0.9) // 1.28155
 */
export function normalQuantile(p: number): number {
  requireNumber('p', p, { min: Number.MIN_VALUE, max: 1 - 2 ** -53, unit: '' });
  const q = p - 0.5;
  if (Math.abs(q) <= 0.425) return q * middleRatio(0.180625 - q * q);
  const r = Math.sqrt(-Math.log(q < 0 ? p : 1 - p));
  const value = r <= 5 ? sideRatio(r - 1.6) : farRatio(r - 5);
  return q < 0 ? -value : value;
}

/** The three ratios of AS 241, written out because a loop over coefficients is slow until compiled. */
function middleRatio(x: number): number {
  let top = 2509.0809287301226727;
  top = top * x + 33430.575583588128105;
  top = top * x + 67265.770927008700853;
  top = top * x + 45921.953931549871457;
  top = top * x + 13731.693765509461125;
  top = top * x + 1971.5909503065514427;
  top = top * x + 133.14166789178437745;
  top = top * x + 3.387132872796366608;
  let bottom = 5226.495278852854561;
  bottom = bottom * x + 28729.085735721942674;
  bottom = bottom * x + 39307.89580009271061;
  bottom = bottom * x + 21213.794301586595867;
  bottom = bottom * x + 5394.1960214247511077;
  bottom = bottom * x + 687.1870074920579083;
  bottom = bottom * x + 42.313330701600911252;
  bottom = bottom * x + 1;
  return top / bottom;
}

/** Beyond 0.425 from the middle. */
function sideRatio(x: number): number {
  let top = 7.7454501427834140764e-4;
  top = top * x + 0.0227238449892691845833;
  top = top * x + 0.24178072517745061177;
  top = top * x + 1.27045825245236838258;
  top = top * x + 3.64784832476320460504;
  top = top * x + 5.7694972214606914055;
  top = top * x + 4.6303378461565452959;
  top = top * x + 1.42343711074968357734;
  let bottom = 1.05075007164441684324e-9;
  bottom = bottom * x + 5.475938084995344946e-4;
  bottom = bottom * x + 0.0151986665636164571966;
  bottom = bottom * x + 0.14810397642748007459;
  bottom = bottom * x + 0.68976733498510000455;
  bottom = bottom * x + 1.6763848301838038494;
  bottom = bottom * x + 2.05319162663775882187;
  bottom = bottom * x + 1;
  return top / bottom;
}

/** Beyond about 5.3 standard deviations. */
function farRatio(x: number): number {
  let top = 2.01033439929228813265e-7;
  top = top * x + 2.71155556874348757815e-5;
  top = top * x + 0.0012426609473880784386;
  top = top * x + 0.026532189526576123093;
  top = top * x + 0.29656057182850489123;
  top = top * x + 1.7848265399172913358;
  top = top * x + 5.4637849111641143699;
  top = top * x + 6.6579046435011037772;
  let bottom = 2.04426310338993978564e-15;
  bottom = bottom * x + 1.4215117583164458887e-7;
  bottom = bottom * x + 1.8463183175100546818e-5;
  bottom = bottom * x + 7.868691311456132591e-4;
  bottom = bottom * x + 0.0148753612908506148525;
  bottom = bottom * x + 0.13692988092273580531;
  bottom = bottom * x + 0.59983220655588793769;
  bottom = bottom * x + 1;
  return top / bottom;
}
