import type { z } from 'zod';

/** A refusal that is answered as an RFC 9457 problem. */
export class Problem extends Error {
  override readonly name = 'Problem';

  constructor(
    readonly status: number,
    readonly code: string,
    readonly title: string,
    detail: string,
    readonly errors?: readonly { pointer: string; message: string }[],
  ) {
    super(detail);
  }

  toJSON(): Record<string, unknown> {
    const { status, title, message: detail, errors } = this;
    return { type: `urn:maker-simulator:${this.code}`, title, status, detail, ...(errors && { errors }) };
  }
}

/** A problem that names every faulty field by its JSON pointer (RFC 6901). */
export function invalidInput(error: z.ZodError): Problem {
  const errors = error.issues.map((issue) => ({
    pointer: issue.path
      .map((step) => `/${String(step).replaceAll('~', '~0').replaceAll('/', '~1')}`)
      .join(''),
    message: issue.message,
  }));
  return new Problem(
    400,
    'invalid-input',
    'The document is faulty',
    'Mend the fields that are listed.',
    errors,
  );
}
