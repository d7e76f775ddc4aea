import type { FieldErrors, FieldValues, Resolver } from 'react-hook-form';
import { set } from 'react-hook-form';
import type { z } from 'zod';

type Translate = (key: string, options?: Record<string, unknown>) => string;
type Issue = z.core.$ZodIssue;

/** What to mend, in the language of the screen; a rule of its own keeps its own sentence. */
export function sentenceOf(issue: Issue, t: Translate): string {
  switch (issue.code) {
    case 'invalid_type':
      return t(
        Number.isNaN(issue.input)
          ? 'form.number'
          : issue.input === undefined
            ? 'form.required'
            : 'form.wrong',
      );
    case 'too_small':
      return issue.origin === 'string' ? t('form.few_words') : t('form.at_least', { limit: issue.minimum });
    case 'too_big':
      return issue.origin === 'string' ? t('form.too_long') : t('form.at_most', { limit: issue.maximum });
    case 'invalid_value':
      return t('form.choose');
    case 'invalid_format':
      return issue.format === 'date'
        ? t('form.date')
        : issue.format === 'uuid'
          ? t('form.choose')
          : issue.message;
    default:
      return issue.message;
  }
}

/** Leaves out what was not filled in: an optional field of a contract is absent, never empty. */
export function filled(value: unknown): unknown {
  if (typeof value === 'string') return value.trim() === '' ? undefined : value;
  if (Array.isArray(value) || value === null || typeof value !== 'object') return value;
  return Object.fromEntries(
    Object.entries(value)
      .map(([key, inner]) => [key, filled(inner)] as const)
      .filter(([, inner]) => inner !== undefined),
  );
}

/** The resolver of a form from the contract that the API checks by too. */
export function contractResolver<Values extends FieldValues>(
  schema: z.ZodType,
  t: Translate,
  shape: (values: FieldValues) => unknown = (values) => values,
): Resolver<Values> {
  return (values) => {
    const result = schema.safeParse(filled(shape(values)), { reportInput: true });
    if (result.success) return { values: result.data as Values, errors: {} };
    const errors: Record<string, unknown> = {};
    for (const issue of result.error.issues) {
      const path = issue.path.length === 0 ? 'root' : issue.path.join('.');
      set(errors, path, { type: issue.code ?? 'wrong', message: sentenceOf(issue, t) });
    }
    return { values: {}, errors: errors as FieldErrors<Values> };
  };
}
