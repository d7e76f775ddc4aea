import { useTranslate } from 'react-admin';
import { useFormat, useToday, type Format } from './use-format';

type Translate = (key: string, options?: Record<string, unknown>) => string;
export type FieldValue = string | number | boolean | null | undefined;

/** Where words for codes are looked for. */
const sections = ['stage', 'order.state', 'lens.state', 'return.state', 'choice', 'kind', 'exchange.reason'];

/** A value of a named field as people read it: its unit follows from the name, as everywhere in the contracts. */
export function tellField(
  name: string,
  value: FieldValue,
  format: Format,
  t: Translate,
  today: string,
): string {
  if (value === null || value === undefined || value === '') return '–';
  if (typeof value === 'boolean') return t(value ? 'choice.yes' : 'choice.no');
  if (typeof value === 'number') {
    if (name.endsWith('Deg')) return format.degrees(value);
    if (name.endsWith('Mm')) return format.mm(value);
    if (name.endsWith('Um')) return format.um(value);
    return /[a-z]D$/.test(name) ? format.dioptres(value) : format.plain(value);
  }
  if (name === 'eye')
    return value.length === 2 ? t(`eye.${value}`) : t(`eye.capitals.${value}`, { _: value });
  // A place that the server names, or one that people here call as they like.
  if (name === 'location') return t(`lens.known_place.${value.replaceAll(/\W+/g, '_')}`, { _: value });
  if (/^\d{4}-\d\d-\d\d$/.test(value)) return format.date.day(value, today);
  for (const section of sections) {
    const known = t(`${section}.${value.replaceAll('.', '_')}`, { _: '' });
    if (known) return known;
  }
  return value;
}

/** `tellField` in the language of the screen. */
export function useTellField(): (name: string, value: FieldValue) => string {
  const t = useTranslate();
  const format = useFormat();
  const today = useToday();
  return (name, value) => tellField(name, value, format, t, today);
}
