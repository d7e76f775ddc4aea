/** Codes that a calculation can refuse with; a program switches on these, a person reads the message. */
export type CalculationErrorCode =
  | 'input.not-a-number'
  | 'input.out-of-range'
  | 'input.missing'
  | 'input.unknown-field'
  | 'input.wrong-type'
  | 'input.duplicate'
  | 'input.contradiction'
  | 'optics.no-image'
  | 'sizing.no-width';

/**
 * Input that cannot be computed: says which field, what it held and what it may hold.
 * Every function of this package throws this and nothing else, and never returns NaN or a clamped value.
 * @example new CalculationError('input.out-of-range', 'refraction.axisDeg', 181, 'from 0 to 180 degrees')
 */
export class CalculationError extends Error {
  readonly code: CalculationErrorCode;
  /** Dotted path of the field, as in the input: `keratometry.flatD`, `sizesMm[2]`. */
  readonly field: string;
  readonly value: unknown;
  /** What the field may hold, in words. */
  readonly range: string;

  constructor(code: CalculationErrorCode, field: string, value: unknown, range: string, message?: string) {
    super(message ?? `${field} is ${shown(value)}; it must be ${range}.`);
    this.name = 'CalculationError';
    this.code = code;
    this.field = field;
    this.value = value;
    this.range = range;
  }
}

/** Least and greatest value that a field may hold, both included, and their unit. */
export interface NumberRange {
  readonly min: number;
  readonly max: number;
  readonly unit: string;
}

/**
 * Returns the number, or throws a CalculationError that names field, value and range.
 * @source none: the house rule that impossible input is refused by name
 * @example requireNumber('vertexMm', 12, { min: 0, max: 25, unit: 'mm' }) // 12
 */
export function requireNumber(field: string, value: unknown, range: NumberRange): number {
  if (typeof value === 'number' && value >= range.min && value <= range.max) return value;
  throw numberError(field, value, range);
}

function numberError(field: string, value: unknown, range: NumberRange): CalculationError {
  const words = `a number from ${range.min} to ${range.max} ${range.unit}`.trimEnd();
  if (value === undefined) return new CalculationError('input.missing', field, value, words);
  const code =
    typeof value === 'number' && !Number.isNaN(value) ? 'input.out-of-range' : 'input.not-a-number';
  return new CalculationError(code, field, value, words);
}

function shown(value: unknown): string {
  if (value === undefined) return 'missing';
  if (typeof value === 'string') {
    return JSON.stringify(value.length > 60 ? `${value.slice(0, 60)}…` : value);
  }
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object' && value !== null) return 'an object';
  return String(value);
}
