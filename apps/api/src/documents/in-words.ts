/** A power as labels print it: signed, two decimals, a true minus sign. */
export function dioptres(value: number): string {
  const sign = value < 0 ? '−' : value > 0 ? '+' : '';
  return `${sign}${Math.abs(value).toFixed(2)} D`;
}

export const millimetres = (value: number): string => `${value.toFixed(2)} mm`;

export const degrees = (value: number | null): string =>
  value === null ? 'none (no cylinder)' : `${value}°`;

/** A plain date with its month in letters, so that no country reads it otherwise: 2026-11-25 becomes 25 Nov 2026. */
export function dayInLetters(day: string): string {
  const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
  const [year, month, date] = day.split('-').map(Number);
  return `${date} ${months[(month ?? 1) - 1]} ${year}`;
}

/** A refraction: sphere / cylinder x axis. */
export function refractionInWords(lens: {
  sphereD: number;
  cylinderD: number;
  axisDeg: number | null;
}): string {
  const { sphereD, cylinderD, axisDeg } = lens;
  if (cylinderD === 0 || axisDeg === null) return dioptres(sphereD);
  return `${dioptres(sphereD)} / ${dioptres(cylinderD)} × ${Math.round(axisDeg)}°`;
}

/** A turn from the horizontal: counter-clockwise is positive. */
export function turnInWords(turnDeg: number): string {
  const turn = Math.round(turnDeg);
  if (turn === 0) return 'none: place the lens horizontally';
  return `${Math.abs(turn)}° ${turn > 0 ? 'counter-clockwise' : 'clockwise'} from the horizontal`;
}
