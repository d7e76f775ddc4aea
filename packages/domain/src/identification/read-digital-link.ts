import { GS1_ELEMENTS } from './gs1-elements.js';
import { LabelError } from './label-error.js';
import type { LabelElement } from './label-reading.js';
import type { ElementList } from './read-gs1.js';

const SHAPE = /^https?:\/\/[^/?#\s]+(\/[^?#\s]*)(?:\?([^#\s]*))?(?:#\S*)?$/i;
/** Qualifiers of a GTIN in the order that the standard demands. */
const QUALIFIERS = ['22', '10', '21'];

function linkError(position: number, why: string): LabelError {
  return new LabelError('label.link', position, `${why}; scan again, or ask the maker for a new label.`);
}

function decode(text: string, position: number): string {
  try {
    return decodeURIComponent(text);
  } catch {
    throw linkError(position, 'The link holds a broken percent sign');
  }
}

function readPath(path: string, start: number): LabelElement[] {
  const segments: { text: string; position: number }[] = [];
  let at = start;
  for (const text of path.split('/')) {
    segments.push({ text, position: at });
    at += text.length + 1;
  }
  const key = segments.findIndex((segment, i) => segment.text === '01' && i < segments.length - 1);
  if (key < 0) throw linkError(start, 'The link names no article: it needs /01/ and 14 digits');
  const tail = segments.slice(key);
  if (tail.length % 2 !== 0) throw linkError(at - 1, 'The link ends in an identifier without its value');
  const elements: LabelElement[] = [];
  let reached = -1;
  for (let i = 0; i < tail.length; i += 2) {
    const { text: identifier, position } = tail[i] as { text: string; position: number };
    const order = QUALIFIERS.indexOf(identifier);
    if (i > 0 && order <= reached) throw linkError(position, `"${identifier}" is out of place in the link`);
    if (i > 0) reached = order;
    elements.push({ identifier, value: decode((tail[i + 1] as { text: string }).text, position), position });
  }
  return elements;
}

function readQuery(query: string, start: number): LabelElement[] {
  const elements: LabelElement[] = [];
  let at = start;
  for (const pair of query.split(/[&;]/)) {
    const equals = pair.indexOf('=');
    const name = equals < 0 ? pair : pair.slice(0, equals);
    // Words are for the web server; only numbers are elements, and an unknown number is a fault.
    if (/^\d+$/.test(name)) {
      if (!GS1_ELEMENTS.has(name) || equals < 0)
        throw linkError(at, `"${pair}" is no element of a lens label`);
      elements.push({ identifier: name, value: decode(pair.slice(equals + 1), at), position: at });
    }
    at += pair.length + 1;
  }
  return elements;
}

/**
 * Splits an uncompressed GS1 Digital Link URI with a GTIN into its elements. Any host may carry it.
 * @throws LabelError `label.link` when it is no such link.
 * @source GS1 Digital Link standard: URI syntax (path /01/ with qualifiers 22, 10, 21 in this order, attributes in the query).
 */
export function splitDigitalLink(text: string, offset: number): ElementList {
  const match = SHAPE.exec(text);
  if (!match) throw linkError(offset, 'This web address is no GS1 Digital Link');
  const path = match[1] as string;
  const pathAt = text.indexOf(path, text.indexOf('//') + 2);
  const elements = readPath(path, offset + pathAt);
  const query = match[2];
  if (query !== undefined && query !== '') elements.push(...readQuery(query, offset + text.indexOf('?') + 1));
  return { elements, warnings: [] };
}
