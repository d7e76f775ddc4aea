import { ApiProblem } from '../../providers/request';

export interface PlacedProblem {
  /** Messages by the name of their field, `values.axisDeg`. */
  fields: { name: string; message: string }[];
  /** What belongs to no field of the form. */
  rest: string[];
  /** Somebody moved the thing in the meantime. */
  moved: boolean;
}

/** The field that an error of the API points at: `/values/axisDeg` is `values.axisDeg`. */
export function fieldOf(pointer: string): string {
  return pointer
    .replace(/^[#/]+/, '')
    .replaceAll('/', '.')
    .replaceAll('~1', '/')
    .replaceAll('~0', '~');
}

/** Puts the errors of an answer at the fields of a form that has them; the rest goes to its head. */
export function placeProblem(error: unknown, has: (name: string) => boolean): PlacedProblem | null {
  if (!(error instanceof ApiProblem)) return null;
  const errors = error.problem?.errors ?? [];
  const placed = errors.map(({ pointer, message }) => ({ name: fieldOf(pointer), message }));
  const fields = placed.filter(({ name }) => has(name));
  const rest = placed.filter(({ name }) => !has(name)).map(({ message }) => message);
  if (fields.length === 0 && rest.length === 0) rest.push(error.message);
  return { fields, rest, moved: error.status === 409 };
}
