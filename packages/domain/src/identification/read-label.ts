import { isPlainDate } from './calendar-dates.js';
import { interpretElements } from './interpret-gs1.js';
import { LabelError, LabelValueError } from './label-error.js';
import type { LabelReading, LabelScheme } from './label-reading.js';
import { splitDigitalLink } from './read-digital-link.js';
import { splitBracketed, splitElementString } from './read-gs1.js';
import { readHibc } from './read-hibc.js';

/** How to read a label. */
export interface ReadLabelOptions {
  /** The ISO plain date at the reader, which two-digit years are read against. */
  readonly today: string;
  /** Schemes that this maker's labels may have; all when left out. A serial alone proves nothing, so leave it out where you can. */
  readonly accept?: readonly LabelScheme[];
}

const LONGEST = 1000;
const GS1_PREFIXES = [']C1', ']e0', ']d2', ']Q3', ']J1'];
const PLAIN_PREFIX = /^\](?:A[0-9]|C0|d1|Q1|z[0-9])/;

function readSerial(text: string, offset: number, raw: string): LabelReading {
  if (/^\d{12,}$/.test(text) || /^01\d{14}/.test(text)) {
    throw new LabelError(
      'label.unknown-scheme',
      offset,
      'This is an article number, not a serial; scan the symbol that carries the serial number.',
    );
  }
  if (!/^[A-Z0-9][A-Z0-9./-]{2,19}$/.test(text)) {
    throw new LabelError(
      'label.unknown-scheme',
      offset,
      'This is neither a GS1 nor a HIBC label nor a serial of 3 to 20 capital letters and digits; scan again.',
    );
  }
  return {
    scheme: 'serial',
    serial: text,
    elements: [{ identifier: 'serial', value: text, position: offset }],
    warnings: [],
    raw,
  };
}

function readUnmarked(text: string, offset: number, today: string, raw: string): LabelReading {
  if (/^https?:\/\//i.test(text)) {
    return interpretElements('gs1-digital-link', splitDigitalLink(text, offset), today, raw);
  }
  if (text.startsWith('(')) return interpretElements('gs1', splitBracketed(text, offset), today, raw);
  if (text.startsWith('+')) return readHibc(text, offset, today, raw);
  if (/^\*\+.*\*$/s.test(text)) {
    // The caption under a HIBC symbol stands between asterisks and shows a space as the check character as `_`.
    const caption = text.slice(1, -1).replace(/_$/, ' ');
    return readHibc(caption, offset + 1, today, raw);
  }
  // Many scanners send a GS1 symbol without its prefix. What is marked by a separator, or begins with a whole
  // article number and goes on, can be nothing else.
  if (/[\u001d\u241d]/.test(text) || /^0[123]\d{14}./s.test(text)) {
    return interpretElements('gs1', splitElementString(text, offset), today, raw);
  }
  return readSerial(text, offset, raw);
}

/**
 * Reads what a scanner, a camera or a person gives for the label of a lens pack: GS1 element strings (with AIM
 * prefix, separators or in brackets), GS1 Digital Link, HIBC supplier labels, or a plain serial number.
 * Nothing is repaired or guessed.
 * @throws LabelError with code, position and one sentence that says what to mend.
 * @throws LabelValueError when `today` is no ISO plain date.
 * @example readLabel('(01)09506000134352(17)271231(10)ABC123(21)SN0001', { today: '2026-11-25' }).serial // 'SN0001'
 */
export function readLabel(text: string, options: ReadLabelOptions): LabelReading {
  if (!isPlainDate(options.today)) throw new LabelValueError('today', options.today, 'a date as 2026-11-25');
  if (text.length > LONGEST) {
    throw new LabelError(
      'label.too-long',
      LONGEST,
      'This is longer than any label; scan one symbol at a time.',
    );
  }
  const lead = /^[ \t\r\n]*/.exec(text)?.[0].length ?? 0;
  // A space at the end may be the check character of a HIBC label; everywhere else it means nothing.
  const hibc = /^(\][A-Za-z][0-9])?\+/.test(text.slice(lead));
  const trimmed = text.slice(lead).replace(hibc ? /[\t\r\n]+$/ : /[ \t\r\n]+$/, '');
  if (trimmed === '') throw new LabelError('label.empty', 0, 'Nothing was scanned; scan or type the label.');
  const reading = readPrefixed(trimmed, lead, options.today, text);
  if (options.accept && !options.accept.includes(reading.scheme)) {
    throw new LabelError(
      'label.scheme-not-expected',
      lead,
      `A label of the kind "${reading.scheme}" is not expected from this maker; scan the symbol with the full label.`,
    );
  }
  return reading;
}

function readPrefixed(text: string, lead: number, today: string, raw: string): LabelReading {
  if (!text.startsWith(']')) return readUnmarked(text, lead, today, raw);
  const prefix = text.slice(0, 3);
  const rest = text.slice(3);
  if (GS1_PREFIXES.includes(prefix)) {
    if (rest === '') throw new LabelError('label.empty', lead, 'The symbol is empty; scan again.');
    return interpretElements('gs1', splitElementString(rest, lead + 3), today, raw);
  }
  if (PLAIN_PREFIX.test(prefix)) {
    // The scanner says that this is no GS1 symbol, so it must be something else.
    if (/^(\+|https?:\/\/)/i.test(rest)) return readUnmarked(rest, lead + 3, today, raw);
    return readSerial(rest, lead + 3, raw);
  }
  throw new LabelError(
    'label.unknown-scheme',
    lead,
    `The scanner names a kind of symbol (${prefix}) that no lens label uses; scan the label on the lens pack.`,
  );
}
