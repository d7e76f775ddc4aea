import { DomainError } from '@lensferry/domain';

type Field = { pointer: string; message: string };

/** With the `u` flag this meets only surrogates that stand alone. */
const halfCharacter = /\p{Surrogate}/u;

/** PostgreSQL keeps no NUL character, and half of a surrogate pair is no character at all. */
function faultOf(text: string): string | null {
  if (text.includes('\u0000')) return 'There is a NUL character in this text; take it out.';
  if (halfCharacter.test(text)) return 'There is half of a character in this text; type it again.';
  return null;
}

function faultsIn(value: unknown, pointer: string): Field[] {
  if (typeof value === 'string') {
    const message = faultOf(value);
    return message === null ? [] : [{ pointer: pointer || '/', message }];
  }
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, item]) => {
    const message = faultOf(key);
    const place = `${pointer}/${key.replaceAll(/\0|\p{Surrogate}/gu, '\uFFFD')}`;
    return message === null ? faultsIn(item, place) : [{ pointer: place, message }];
  });
}

/** Refuses text that can't be kept as it was written. @throws DomainError `input.unstorable` naming each field. */
export function requireStorable(value: unknown): void {
  const fields = faultsIn(value, '').slice(0, 50);
  const [first] = fields;
  if (first !== undefined)
    throw new DomainError('invalid', 'input.unstorable', `${first.pointer}: ${first.message}`, {}, fields);
}
