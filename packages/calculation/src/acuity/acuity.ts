import { CalculationError, requireNumber, type NumberRange } from '../calculation-error.js';

/** Visual acuity as logMAR may lie from well above normal sight to hand movements. */
const LOG_MAR: NumberRange = { min: -0.5, max: 2.5, unit: 'logMAR' };
const DECIMAL: NumberRange = { min: 10 ** -2.5, max: 10 ** 0.5, unit: '' };

/** How an acuity is written. */
export type AcuityNotation = 'feet' | 'metres' | 'decimal' | 'logmar';

/**
 * logMAR that stands for what cannot be read from a chart.
 * @source Bach, michaelbach.de/sci/acuity.html: count fingers 1.9, hand movement 2.3
 */
export const LOW_VISION_LOG_MAR = { 'count-fingers': 1.9, 'hand-movement': 2.3 } as const;

/** One line of a chart in logMAR. */
export const LOG_MAR_PER_LINE = 0.1;

// Denominators at 20 feet that charts print; a tenth of a logMAR apart, rounded as the trade rounds them.
const CHART_FEET = [
  10, 12.5, 16, 20, 25, 32, 40, 50, 63, 80, 100, 125, 160, 200, 250, 320, 400, 500, 630, 800,
];

/**
 * logMAR = -log10 of decimal acuity. Throws CalculationError outside 0.00316 to 3.16.
 * @source Bach, michaelbach.de/sci/acuity.html
 * @example logMarFromDecimal(0.5) // 0.301
 */
export function logMarFromDecimal(decimal: number): number {
  return -Math.log10(requireNumber('decimal', decimal, DECIMAL)) + 0;
}

/**
 * Decimal acuity of a logMAR. Throws CalculationError outside -0.5 to 2.5.
 * @example decimalFromLogMar(0.3) // 0.501
 */
export function decimalFromLogMar(logMar: number): number {
  return 10 ** -requireNumber('logMar', logMar, LOG_MAR);
}

/**
 * logMAR of a Snellen fraction, feet and metres alike.
 * @example logMarFromFraction(20, 40) // 0.301
 */
export function logMarFromFraction(distance: number, letter: number): number {
  const above0 = { min: Number.MIN_VALUE, max: 1e5, unit: '' };
  requireNumber('distance', distance, above0);
  requireNumber('letter', letter, above0);
  return logMarFromDecimal(distance / letter);
}

/**
 * Lines gained (positive) or lost (negative) from one logMAR to another, a line being 0.1.
 * @example linesGained(0.3, 0.1) // 2
 */
export function linesGained(beforeLogMar: number, afterLogMar: number): number {
  requireNumber('beforeLogMar', beforeLogMar, LOG_MAR);
  requireNumber('afterLogMar', afterLogMar, LOG_MAR);
  return (beforeLogMar - afterLogMar) / LOG_MAR_PER_LINE + 0;
}

/**
 * Reads an acuity as people write it: `20/40`, `6/12`, `0.5`, `0,5`, `CF`, `HM`. A bare number is decimal acuity;
 * say `notation: 'logmar'` where logMAR is meant, because 0.1 is sharp sight in one and poor in the other.
 * Throws CalculationError for anything else, light perception included, which no number stands for.
 * @example readAcuity('6/12') // 0.301
 */
export function readAcuity(text: string, notation: 'decimal' | 'logmar' = 'decimal'): number {
  const plain = text.trim().replace(',', '.').replace('\u2212', '-');
  const word = plain.toUpperCase();
  if (word === 'CF') return LOW_VISION_LOG_MAR['count-fingers'];
  if (word === 'HM') return LOW_VISION_LOG_MAR['hand-movement'];
  const fraction = /^(\d{1,3}(?:\.\d{1,2})?)\s*\/\s*(\d{1,4}(?:\.\d{1,2})?)$/.exec(plain);
  if (fraction) return logMarFromFraction(Number(fraction[1]), Number(fraction[2]));
  if (/^-?\d{1,2}(\.\d{1,3})?$/.test(plain)) {
    const value = Number(plain);
    return notation === 'logmar' ? requireNumber('acuity', value, LOG_MAR) : logMarFromDecimal(value);
  }
  throw new CalculationError('input.wrong-type', 'acuity', text, 'written as 20/40, 6/12, 0.5, CF or HM');
}

/**
 * Writes a logMAR in the notation asked for; a value within a fiftieth of a printed line gets that line's name.
 * Count fingers and hand movement are written CF and HM in every notation but logMAR.
 * @example writeAcuity(0.301, 'metres') // '6/12'
 */
export function writeAcuity(logMar: number, notation: AcuityNotation): string {
  requireNumber('logMar', logMar, LOG_MAR);
  if (notation === 'logmar') return trimmed(logMar, 2);
  if (Math.abs(logMar - LOW_VISION_LOG_MAR['count-fingers']) < 1e-9) return 'CF';
  if (Math.abs(logMar - LOW_VISION_LOG_MAR['hand-movement']) < 1e-9) return 'HM';
  const exactFeet = 20 * 10 ** logMar;
  const line = CHART_FEET.find((feet) => Math.abs(feet / exactFeet - 1) < 0.02) ?? exactFeet;
  if (notation === 'decimal') return trimmed(20 / line, 20 / line < 0.1 ? 3 : 2);
  const scaled = notation === 'feet' ? line : (line * 6) / 20;
  return `${notation === 'feet' ? 20 : 6}/${trimmed(scaled, scaled < 20 ? 2 : 0)}`;
}

function trimmed(value: number, decimals: number): string {
  return String(Number(value.toFixed(decimals)) + 0);
}
