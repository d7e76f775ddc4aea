/** A straight line through points of known, equal spread. */
export interface FittedLine {
  readonly slope: number;
  /** Standard error of the slope, from the known spread of the points. */
  readonly slopeSe: number;
  /** Height of the line at `x` with its 95 % limits. */
  readonly at: (x: number) => { estimate: number; low: number; high: number };
}

/**
 * Least squares through points whose spread `sd` is known beforehand, so that two points suffice;
 * at least two different x must be given.
 */
export function fitLine(
  points: readonly { readonly x: number; readonly y: number }[],
  sd: number,
): FittedLine {
  const n = points.length;
  const meanX = points.reduce((sum, p) => sum + p.x, 0) / n;
  const meanY = points.reduce((sum, p) => sum + p.y, 0) / n;
  const sxx = points.reduce((sum, p) => sum + (p.x - meanX) ** 2, 0);
  const sxy = points.reduce((sum, p) => sum + (p.x - meanX) * (p.y - meanY), 0);
  const slope = sxy / sxx;
  return {
    slope,
    slopeSe: sd / Math.sqrt(sxx),
    at: (x) => {
      const estimate = meanY + slope * (x - meanX);
      const reach = 1.96 * sd * Math.sqrt(1 / n + (x - meanX) ** 2 / sxx);
      return { estimate, low: estimate - reach, high: estimate + reach };
    },
  };
}
