import { DomainError } from '../errors.js';

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
export class LabelError extends DomainError {
  declare readonly code: LabelErrorCode;

  constructor(
    code: LabelErrorCode,
    readonly position: number,
    message: string,
  ) {
    super('invalid', code, message, { position });
  }
}

/** A value that cannot be written on a label, with the field, the value and what the field takes. */
export class LabelValueError extends DomainError {
  constructor(
    readonly field: string,
    readonly value: unknown,
    readonly range: string,
  ) {
    super(
      'invalid',
      'label.value',
      `${field} must be ${range}, not ${JSON.stringify(value) ?? String(value)}.`,
      {
        field,
        range,
      },
    );
  }
}
