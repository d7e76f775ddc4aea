import { dateOfYearDay, daysInMonth, fullYear, plainDate } from './calendar-dates.js';
import { LabelError } from './label-error.js';
import type { LabelElement } from './label-reading.js';

/** What the second part of a HIBC label says. */
export interface HibcSecondary {
  readonly lot?: string;
  readonly serial?: string;
  readonly expiresOn?: string;
  readonly monthOnly: boolean;
}

// Date forms after `$$`: flag, how many digits follow, and how to read them. Without a flag, MMYY follows,
// whose first digit is 0 or 1. HIBC names no rule for the century; the GS1 window is used (own choice).
const DATE_FORMS: Record<string, { digits: number; read: (d: string, yearNow: number) => string | null }> = {
  '2': { digits: 6, read: (d, now) => day(d.slice(4), d.slice(0, 2), d.slice(2, 4), now) },
  '3': { digits: 6, read: (d, now) => day(d.slice(0, 2), d.slice(2, 4), d.slice(4), now) },
  '4': {
    digits: 8,
    read: (d, now) => hour(d.slice(6)) && day(d.slice(0, 2), d.slice(2, 4), d.slice(4, 6), now),
  },
  '5': { digits: 5, read: (d, now) => yearDay(d, now) },
  '6': { digits: 7, read: (d, now) => hour(d.slice(5)) && yearDay(d.slice(0, 5), now) },
};

function day(yy: string, month: string, dayOfMonth: string, yearNow: number): string | null {
  return plainDate(fullYear(Number(yy), yearNow), Number(month), Number(dayOfMonth));
}

function yearDay(yyddd: string, yearNow: number): string | null {
  return dateOfYearDay(fullYear(Number(yyddd.slice(0, 2)), yearNow), Number(yyddd.slice(2)));
}

function hour(hh: string): string | null {
  return Number(hh) <= 23 ? hh : null;
}

function monthEnd(mmyy: string, yearNow: number): string | null {
  const month = Number(mmyy.slice(0, 2));
  if (month < 1 || month > 12) return null;
  const year = fullYear(Number(mmyy.slice(2)), yearNow);
  return plainDate(year, month, daysInMonth(year, month));
}

function fault(
  code: 'label.date' | 'label.length' | 'label.character',
  position: number,
  why: string,
): LabelError {
  return new LabelError(code, position, `${why}; scan again, or ask the maker for a new label.`);
}

/** Takes the date from the front of what follows `$$`; returns it with the remaining text. */
function takeDate(text: string, position: number, yearNow: number) {
  if (text.startsWith('7')) return { rest: text.slice(1), monthOnly: false };
  const form = DATE_FORMS[text.charAt(0)];
  const flagged = form !== undefined;
  const length = form?.digits ?? 4;
  const digits = flagged ? text.slice(1, 1 + length) : text.slice(0, length);
  if (!/^\d+$/.test(digits) || digits.length !== length || (!flagged && !/^[01]/.test(digits))) {
    throw fault('label.date', position, 'The expiry date of this HIBC label is incomplete');
  }
  const expiresOn = form ? form.read(digits, yearNow) : monthEnd(digits, yearNow);
  if (!expiresOn)
    throw fault('label.date', position, `The HIBC label says ${digits}, which is no expiry date`);
  return { rest: text.slice(digits.length + (flagged ? 1 : 0)), expiresOn, monthOnly: !flagged };
}

function checkText(value: string, field: string, min: number, position: number): string {
  if (value.length < min || value.length > 18) {
    throw fault(
      'label.length',
      position,
      `The ${field} on this HIBC label must have ${min} to 18 characters`,
    );
  }
  if (!/^[0-9A-Z]*$/.test(value)) {
    throw fault(
      'label.character',
      position,
      `The ${field} on this HIBC label may hold capital letters and digits only`,
    );
  }
  return value;
}

/** True when a part of a HIBC label is secondary data (lot, serial and date). */
export function isHibcSecondary(part: string): boolean {
  return /^(\$|\d{5})/.test(part);
}

/**
 * Reads the secondary data of a HIBC label: `$`, `$+`, `$$`, `$$+` with their date and quantity flags, or YYDDD.
 * @throws LabelError when a date, length or character is wrong.
 * @source ANSI/HIBC 2.6, secondary data structure.
 */
export function readHibcSecondary(part: string, position: number, yearNow: number): HibcSecondary {
  const match = /^(\$\$\+|\$\+|\$\$|\$|)(.*)$/s.exec(part);
  const marker = match?.[1] ?? '';
  let text = match?.[2] ?? '';
  const isSerial = marker.endsWith('+');
  const field = isSerial ? 'serial number' : 'lot';
  const named = (value: string) => {
    const checked = checkText(value, field, isSerial ? 1 : 0, position);
    return checked === '' ? {} : isSerial ? { serial: checked } : { lot: checked };
  };
  if (marker === '$' || marker === '$+') {
    if (text === '') throw fault('label.length', position, `The ${field} on this HIBC label is missing`);
    return { ...named(text), monthOnly: false };
  }
  if (marker === '') {
    const expiresOn = yearDay(text.slice(0, 5), yearNow);
    if (!expiresOn)
      throw fault(
        'label.date',
        position,
        `The HIBC label says ${text.slice(0, 5)}, which is no day of a year`,
      );
    return { ...named(text.slice(5)), expiresOn, monthOnly: false };
  }
  const quantity = /^(8\d{2}|9\d{5})/.exec(text);
  if (quantity) text = text.slice(quantity[0].length);
  else if (/^[89]/.test(text))
    throw fault('label.length', position, 'The quantity on this HIBC label is incomplete');
  const { rest, ...date } = takeDate(text, position, yearNow);
  return { ...named(rest), ...date };
}

/**
 * Reads one supplementary part: `S` serial, `14D` expiry, `16D` manufacture, `Q` quantity.
 * @throws LabelError when it is unknown or its value is wrong.
 * @source ANSI/HIBC 2.6, additional supplemental data; data identifiers of ANS MH10.8.2.
 */
export function readHibcSupplement(part: string, position: number): LabelElement {
  const dated = /^(14D|16D)(.*)$/s.exec(part);
  if (dated) {
    const digits = /^(\d{4})(\d{2})(\d{2})$/.exec(dated[2] as string);
    const value = digits && plainDate(Number(digits[1]), Number(digits[2]), Number(digits[3]));
    if (!value) throw fault('label.date', position, `"${part}" on this HIBC label is no date`);
    return { identifier: dated[1] as string, value, position };
  }
  if (part.startsWith('S')) {
    return { identifier: 'S', value: checkText(part.slice(1), 'serial number', 1, position), position };
  }
  if (/^Q\d{1,5}$/.test(part)) return { identifier: 'Q', value: part.slice(1), position };
  throw new LabelError(
    'label.unknown-element',
    position,
    `"${part}" is no part of a HIBC label that Lensferry knows; scan again, or receive the lens by hand.`,
  );
}
