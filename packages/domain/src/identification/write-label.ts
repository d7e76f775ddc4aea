import { isPlainDate } from './calendar-dates.js';
import { firstNonCset82, hasGs1CheckDigit, hibcCheckCharacter } from './check-characters.js';
import { LabelValueError } from './label-error.js';
import type { LabelLens } from './label-reading.js';
import { writeLensElement } from './lens-element.js';

/** One lens pack to be labelled. Dates are ISO plain dates. */
export interface Gs1LabelContent {
  readonly gtin: string;
  readonly serial: string;
  readonly lot: string;
  readonly expiresOn: string;
  readonly madeOn?: string;
  readonly lens?: LabelLens;
}

function sixDigits(field: string, date: string): string {
  if (!isPlainDate(date)) throw new LabelValueError(field, date, 'a date as 2027-12-31');
  return date.slice(2).replaceAll('-', '');
}

function gs1Text(field: string, value: string): string {
  if (value.length < 1 || value.length > 20 || firstNonCset82(value) >= 0 || /[()]/.test(value)) {
    throw new LabelValueError(field, value, '1 to 20 characters of GS1 set 82 without brackets');
  }
  return value;
}

/** The elements of a pack's label in print order: predefined lengths first, so that few separators are needed. */
export function gs1LabelElements(content: Gs1LabelContent): readonly (readonly [string, string])[] {
  if (content.gtin.length !== 14 || !hasGs1CheckDigit(content.gtin)) {
    throw new LabelValueError('gtin', content.gtin, '14 digits with their check digit');
  }
  return [
    ['01', content.gtin],
    ...(content.madeOn === undefined ? [] : [['11', sixDigits('madeOn', content.madeOn)] as const]),
    ['17', sixDigits('expiresOn', content.expiresOn)],
    ['10', gs1Text('lot', content.lot)],
    ['21', gs1Text('serial', content.serial)],
    ...(content.lens === undefined ? [] : [['91', writeLensElement(content.lens)] as const]),
  ];
}

/**
 * What a scanner sends for a GS1 DataMatrix with this content: prefix `]d2`, separators after variable lengths.
 * @throws LabelValueError when a value cannot stand on a label; a date is never written with day 00.
 */
export function writeGs1Label(content: Gs1LabelContent): string {
  const elements = gs1LabelElements(content);
  const variable = ['10', '21', '91'];
  const text = elements.map(
    ([identifier, value], i) =>
      identifier + value + (variable.includes(identifier) && i < elements.length - 1 ? '\u001d' : ''),
  );
  return `]d2${text.join('')}`;
}

/** The same content in the bracketed form that people read and that bwip-js draws. */
export function writeBracketedLabel(content: Gs1LabelContent): string {
  return gs1LabelElements(content)
    .map(([identifier, value]) => `(${identifier})${value}`)
    .join('');
}

/** One pack to be labelled by the HIBC supplier standard. */
export interface HibcLabelContent {
  /** Labeller: a letter and three letters or digits. */
  readonly labeller: string;
  /** Product number: 1 to 18 capital letters and digits. */
  readonly product: string;
  readonly serial: string;
  readonly lot: string;
  readonly expiresOn: string;
  readonly madeOn?: string;
}

/**
 * A HIBC label with primary and secondary data in one symbol: expiry as `$$3YYMMDD`, lot, `/S` serial, `/16D`.
 * @throws LabelValueError when a value cannot stand on such a label.
 */
export function writeHibcLabel(content: HibcLabelContent): string {
  const plain = (field: 'product' | 'serial' | 'lot', value: string) => {
    if (!/^[0-9A-Z]{1,18}$/.test(value))
      throw new LabelValueError(field, value, '1 to 18 capital letters and digits');
    return value;
  };
  if (!/^[A-Z][0-9A-Z]{3}$/.test(content.labeller)) {
    throw new LabelValueError('labeller', content.labeller, 'a letter and three letters or digits');
  }
  const made = content.madeOn;
  if (made !== undefined && !isPlainDate(made))
    throw new LabelValueError('madeOn', made, 'a date as 2027-12-31');
  const text = [
    `+${content.labeller}${plain('product', content.product)}0`,
    `$$3${sixDigits('expiresOn', content.expiresOn)}${plain('lot', content.lot)}`,
    `S${plain('serial', content.serial)}`,
    ...(made === undefined ? [] : [`16D${made.replaceAll('-', '')}`]),
  ].join('/');
  return text + hibcCheckCharacter(text);
}
