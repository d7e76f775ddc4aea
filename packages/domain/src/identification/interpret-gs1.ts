import { checkGs1Value, readGs1Date } from './gs1-value.js';
import { LabelError } from './label-error.js';
import type { LabelElement, LabelReading, LabelWarning } from './label-reading.js';
import { looksLikeLensElement, readLensElement } from './lens-element.js';
import type { ElementList } from './read-gs1.js';

function onlyOnce(elements: readonly LabelElement[], warnings: LabelWarning[]): Map<string, LabelElement> {
  const found = new Map<string, LabelElement>();
  for (const element of elements) {
    const before = found.get(element.identifier);
    if (before && before.value !== element.value) {
      throw new LabelError(
        'label.contradiction',
        element.position,
        `Element (${element.identifier}) stands twice with different values; scan one pack at a time.`,
      );
    }
    if (before) {
      warnings.push({ code: 'repeated-element', message: `Element (${element.identifier}) stands twice.` });
    }
    found.set(element.identifier, element);
  }
  return found;
}

function articleNumber(found: Map<string, LabelElement>, warnings: LabelWarning[]): string | undefined {
  const own = found.get('01');
  const madeToOrder = found.get('03');
  const content = found.get('02') ?? found.get('37');
  if (content && (own || madeToOrder)) {
    throw new LabelError(
      'label.contradiction',
      content.position,
      'The label names both a unit and the content of a box; scan the label on the lens pack only.',
    );
  }
  if (own && madeToOrder && own.value !== madeToOrder.value) {
    throw new LabelError(
      'label.contradiction',
      madeToOrder.position,
      'The label names two articles; scan one pack at a time.',
    );
  }
  const article = own ?? madeToOrder;
  const parcel = found.get('00') ?? content;
  if (!article && parcel) {
    throw new LabelError(
      'label.not-a-unit',
      parcel.position,
      'This is the label of a parcel; scan the label on the lens pack.',
    );
  }
  if (!article) {
    warnings.push({
      code: 'no-gtin',
      message: 'No article number here: scan the other symbol on the pack too.',
    });
  }
  return article?.value;
}

function date(
  element: LabelElement | undefined,
  yearNow: number,
  warnings: LabelWarning[],
): string | undefined {
  if (!element) return undefined;
  const read = readGs1Date(element, yearNow);
  if (read.dayLeftOpen) {
    warnings.push({
      code: 'day-00',
      message: `Element (${element.identifier}) leaves the day open; the end of the month, ${read.date}, is taken.`,
    });
  }
  return read.date;
}

/** Refuses a pack that was made after it expires, and warns when it was made after `today`. */
export function checkDates(
  madeOn: string | undefined,
  expiresOn: string | undefined,
  today: string,
  warnings: LabelWarning[],
): void {
  if (madeOn !== undefined && expiresOn !== undefined && madeOn > expiresOn) {
    throw new LabelError(
      'label.contradiction',
      0,
      `The label says made on ${madeOn} and expires on ${expiresOn}; quarantine the pack and ask the maker.`,
    );
  }
  if (madeOn !== undefined && madeOn > today) {
    warnings.push({
      code: 'made-in-future',
      message: `The label says made on ${madeOn}, which is still to come.`,
    });
  }
}

/**
 * Turns checked elements into a reading.
 * @throws LabelError when a value is wrong, or elements contradict one another.
 */
export function interpretElements(
  scheme: 'gs1' | 'gs1-digital-link',
  list: ElementList,
  today: string,
  raw: string,
): LabelReading {
  const yearNow = Number(today.slice(0, 4));
  const warnings: LabelWarning[] = [...list.warnings];
  for (const element of list.elements) checkGs1Value(element, yearNow);
  const found = onlyOnce(list.elements, warnings);
  const gtin = articleNumber(found, warnings);
  const dayExpiry = date(found.get('17'), yearNow, warnings);
  const timeExpiry = date(found.get('7003'), yearNow, warnings);
  if (dayExpiry !== undefined && timeExpiry !== undefined && dayExpiry !== timeExpiry) {
    throw new LabelError(
      'label.contradiction',
      found.get('7003')?.position ?? 0,
      'Elements (17) and (7003) give different expiry dates; quarantine the pack and ask the maker.',
    );
  }
  const expiresOn = dayExpiry ?? timeExpiry;
  const madeOn = date(found.get('11'), yearNow, warnings);
  checkDates(madeOn, expiresOn, today, warnings);
  const internal = found.get('91');
  const ours = internal !== undefined && looksLikeLensElement(internal.value);
  if (internal && !ours) {
    warnings.push({
      code: 'foreign-lens-element',
      message: "Element (91) is the maker's own: the lens must be read by eye.",
    });
  }
  const serial = found.get('21')?.value;
  const lot = found.get('10')?.value;
  return {
    scheme,
    ...(gtin !== undefined && { gtin }),
    ...(serial !== undefined && { serial }),
    ...(lot !== undefined && { lot }),
    ...(expiresOn !== undefined && { expiresOn }),
    ...(madeOn !== undefined && { madeOn }),
    ...(internal && ours && { lens: readLensElement(internal.value, internal.position) }),
    elements: list.elements,
    warnings,
    raw,
  };
}
