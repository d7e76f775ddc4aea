/** A fact attached to a problem: plain values that a screen or a log may show. Never an identity. */
export type Facts = Record<string, string | number | boolean | null | readonly string[]>;

/** What sort of refusal an error is; the API maps each to one HTTP status. */
export type ErrorKind = 'invalid' | 'forbidden' | 'missing' | 'conflict' | 'refused';

/**
 * An error that a rule of the trade raises. `code` is stable (`order.step-not-allowed`), `message` is one
 * sentence that tells the person what to mend, `facts` are the values behind it.
 */
export class DomainError extends Error {
  override readonly name = 'DomainError';

  constructor(
    readonly kind: ErrorKind,
    readonly code: string,
    message: string,
    readonly facts: Facts = {},
    readonly fields: readonly { pointer: string; message: string }[] = [],
  ) {
    super(message);
  }
}
