import { LabelEntry } from '@lensferry/contracts';
import { parseNumber } from '../shared/forms/parse-number';

/** The fields of a pack as they are typed: text until they are sent. */
export type TypedLabel = Partial<Record<Exclude<keyof LabelEntry, 'text'>, string>>;

/** The fields in the order in which one reads a pack. */
export const labelFields = [
  'eye',
  'sphereD',
  'cylinderD',
  'axisDeg',
  'lengthMm',
  'caseCode',
  'serial',
  'lot',
  'expiresOn',
] as const;
const numbers: readonly string[] = ['sphereD', 'cylinderD', 'axisDeg', 'lengthMm'];

/** What was scanned and typed, as the API takes it; with the fields that can't be what was meant. */
export function labelOf(text: string, typed: TypedLabel): { label: LabelEntry | null; wrong: string[] } {
  const values: Record<string, unknown> = { text };
  for (const [field, value] of Object.entries(typed)) {
    if (value.trim() === '') continue;
    values[field] = numbers.includes(field) ? parseNumber(value) : value.trim();
  }
  const result = LabelEntry.safeParse(values);
  if (result.success) return { label: result.data, wrong: [] };
  return { label: null, wrong: [...new Set(result.error.issues.map(({ path }) => String(path[0])))] };
}

/** FNC1 as a keyboard wedge can send it: the control character itself, or Ctrl and `]`. */
export const GROUP_SEPARATOR = '\u001d';
export function isSeparatorKey(event: { ctrlKey: boolean; key: string }): boolean {
  return event.key === GROUP_SEPARATOR || (event.ctrlKey && event.key === ']');
}

/** A code as people can read it: the separator shown as a sign. */
export function readable(text: string): string {
  return text.replaceAll(GROUP_SEPARATOR, '␝');
}
