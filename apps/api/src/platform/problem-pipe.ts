import { StandardSchemaValidationPipe, type ArgumentMetadata } from '@nestjs/common';
import { DomainError } from '@lensferry/domain';
import { fieldErrors, type Issues } from './field-errors.js';
import { requireStorable } from './storable-text.js';

const byTheSchema = {
  exceptionFactory: (issues: Issues) => {
    const fields = fieldErrors(issues);
    const [first] = fields;
    const more = fields.length > 1 ? ` (and ${fields.length - 1} more)` : '';
    return new DomainError(
      'invalid',
      'input.invalid',
      `${first?.pointer ?? '/'}: ${first?.message ?? 'not valid'}${more}`,
      {},
      fields,
    );
  },
};

/** What is wrong with a part of the address is said of that part. */
function placed(error: unknown, { type, data }: ArgumentMetadata): unknown {
  if (type !== 'param' || data === undefined || !(error instanceof DomainError)) return error;
  const fields = error.fields.map(({ message }) => ({ pointer: `/${data}`, message }));
  return new DomainError(
    error.kind,
    error.code,
    `/${data}: ${fields[0]?.message ?? 'not valid'}`,
    error.facts,
    fields,
  );
}

/** Checks every input against the schema that its route names, and says which field is wrong and how. */
class ProblemPipe extends StandardSchemaValidationPipe {
  override async transform<T = unknown>(value: T, metadata: ArgumentMetadata): Promise<T> {
    try {
      const checked = (await super.transform(value, metadata)) as T;
      if (metadata.schema !== undefined) requireStorable(checked);
      return checked;
    } catch (error) {
      throw placed(error, metadata);
    }
  }
}
export const problemPipe = new ProblemPipe(byTheSchema);
