import { StandardSchemaValidationPipe, type ArgumentMetadata } from '@nestjs/common';
import { DomainError } from '@lensferry/domain';
import { requireStorable } from './storable-text.js';

type Issues = readonly {
  message: string;
  code?: string;
  keys?: readonly string[];
  path?: readonly (PropertyKey | { key: PropertyKey })[] | undefined;
}[];

/** An unknown field is named itself, not the object that it stands in. */
function fieldsOf({ message, path, code, keys }: Issues[number]): { pointer: string; message: string }[] {
  const place = (path ?? []).map((part) => `/${String(typeof part === 'object' ? part.key : part)}`).join('');
  if (code === 'unrecognized_keys' && keys !== undefined)
    return keys.map((key) => ({ pointer: `${place}/${key}`, message: 'There is no such field.' }));
  return [{ pointer: place || '/', message }];
}

const byTheSchema = {
  exceptionFactory: (issues: Issues) => {
    const all = issues.flatMap(fieldsOf);
    const fields = all.slice(0, 50);
    const [first] = fields;
    const more = all.length > 1 ? ` (and ${all.length - 1} more)` : '';
    return new DomainError(
      'invalid',
      'input.invalid',
      `${first?.pointer ?? '/'}: ${first?.message ?? 'not valid'}${more}`,
      {},
      fields,
    );
  },
};

/** Checks every input against the schema that its route names, and says which field is wrong and how. */
class ProblemPipe extends StandardSchemaValidationPipe {
  override async transform<T = unknown>(value: T, metadata: ArgumentMetadata): Promise<T> {
    const checked = (await super.transform(value, metadata)) as T;
    if (metadata.schema !== undefined) requireStorable(checked);
    return checked;
  }
}
export const problemPipe = new ProblemPipe(byTheSchema);
