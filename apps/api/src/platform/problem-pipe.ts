import { StandardSchemaValidationPipe } from '@nestjs/common';
import { DomainError } from '@lensferry/domain';

type Issues = readonly {
  message: string;
  path?: readonly (PropertyKey | { key: PropertyKey })[] | undefined;
}[];

const pointerOf = (path: Issues[number]['path']): string =>
  (path ?? []).map((part) => `/${String(typeof part === 'object' ? part.key : part)}`).join('') || '/';

/** Checks every input against the schema that its route names, and says which field is wrong and how. */
export const problemPipe = new StandardSchemaValidationPipe({
  exceptionFactory: (issues: Issues) => {
    const fields = issues.slice(0, 50).map(({ message, path }) => ({ pointer: pointerOf(path), message }));
    const [first] = fields;
    const more = issues.length > 1 ? ` (and ${issues.length - 1} more)` : '';
    return new DomainError(
      'invalid',
      'input.invalid',
      `${first?.pointer ?? '/'}: ${first?.message ?? 'not valid'}${more}`,
      {},
      fields,
    );
  },
});
