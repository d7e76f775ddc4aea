import { GS1_ELEMENTS, hasPredefinedLength, identifierAt } from './gs1-elements.js';
import { LabelError } from './label-error.js';
import type { LabelElement, LabelWarning } from './label-reading.js';

/** The separator that a scanner sends for FNC1, and the picture of it that some terminals show. */
const SEPARATOR = /[\u001d\u241d]/;

/** The elements of a label with what was odd about how they were put together. */
export interface ElementList {
  readonly elements: readonly LabelElement[];
  readonly warnings: readonly LabelWarning[];
}

function unknownAt(text: string, position: number, offset: number): LabelError {
  return new LabelError(
    'label.unknown-element',
    offset + position,
    `"${text.slice(position, position + 4)}" begins no element of a lens label; scan again, or type the label in its bracketed form.`,
  );
}

/**
 * Splits a GS1 element string (AIM prefix already removed) into its elements.
 * @param offset how many characters of the scanned text stand before `text`.
 * @throws LabelError when an identifier is unknown or a separator is missing or out of place.
 */
export function splitElementString(text: string, offset: number): ElementList {
  const elements: LabelElement[] = [];
  const warnings: LabelWarning[] = [];
  let at = SEPARATOR.test(text.charAt(0)) ? 1 : 0;
  while (at < text.length) {
    const identifier = identifierAt(text, at);
    if (identifier === null) throw unknownAt(text, at, offset);
    const from = at + identifier.length;
    const rest = text.slice(from);
    const gap = rest.search(SEPARATOR);
    const predefined = hasPredefinedLength(identifier);
    const length = predefined ? (GS1_ELEMENTS.get(identifier)?.max ?? 0) : gap < 0 ? rest.length : gap;
    const value = rest.slice(0, length);
    if (value.length < length || SEPARATOR.test(value)) {
      throw new LabelError(
        'label.length',
        offset + at,
        `Element (${identifier}) is cut short; scan again with the whole symbol in view.`,
      );
    }
    elements.push({ identifier, value, position: offset + at });
    at = from + length;
    if (SEPARATOR.test(text.charAt(at))) {
      const last = at + 1 === text.length;
      if (predefined || last) {
        warnings.push({
          code: 'needless-separator',
          message: `A separator stands after element (${identifier}), where none is needed.`,
        });
      }
      at += 1;
      if (SEPARATOR.test(text.charAt(at))) {
        throw new LabelError(
          'label.separator',
          offset + at,
          'Two separators stand side by side; scan again, or type the label in its bracketed form.',
        );
      }
    }
  }
  return { elements, warnings };
}

/**
 * Splits the form that is printed for people, `(01)…(17)…`, into its elements. Values that hold a bracket are
 * refused, because nobody can tell them from an identifier.
 * @throws LabelError when brackets or identifiers are wrong.
 */
export function splitBracketed(text: string, offset: number): ElementList {
  const elements: LabelElement[] = [];
  const part = /\((\d{2,4})\)([^()\s]+)\s*/y;
  while (part.lastIndex < text.length) {
    const at = part.lastIndex;
    const match = part.exec(text);
    if (!match) {
      throw new LabelError(
        'label.separator',
        offset + at,
        'Write each element as its identifier in round brackets and then its value, without other brackets or spaces.',
      );
    }
    const [, identifier, value] = match as unknown as [string, string, string];
    if (!GS1_ELEMENTS.has(identifier)) throw unknownAt(text, at + 1, offset);
    elements.push({ identifier, value, position: offset + at });
  }
  return { elements, warnings: [] };
}
