/** What is wrong with a label, as a stable code that screens and tests may rely on. */
export type LabelErrorCode =
  | 'label.empty'
  | 'label.too-long'
  | 'label.unknown-scheme'
  | 'label.scheme-not-expected'
  | 'label.character'
  | 'label.separator'
  | 'label.unknown-element'
  | 'label.length'
  | 'label.check-digit'
  | 'label.date'
  | 'label.contradiction'
  | 'label.not-a-unit'
  | 'label.lens-element'
  | 'label.link';

/**
 * A label that cannot be trusted. `message` is one sentence that says what to mend; `position` is the offset
 * (from 0) into the scanned text where the fault begins.
 */
export class LabelError extends Error {
  override readonly name = 'LabelError';
  readonly code: LabelErrorCode;
  readonly position: number;

  constructor(code: LabelErrorCode, position: number, message: string) {
    super(message);
    this.code = code;
    this.position = position;
  }
}

/** A value that cannot be written on a label, with the field, the value and what the field takes. */
export class LabelValueError extends Error {
  override readonly name = 'LabelValueError';
  readonly code = 'label.value';
  readonly field: string;
  readonly value: unknown;
  readonly range: string;

  constructor(field: string, value: unknown, range: string) {
    super(`${field} must be ${range}, not ${JSON.stringify(value) ?? String(value)}.`);
    this.field = field;
    this.value = value;
    this.range = range;
  }
}
