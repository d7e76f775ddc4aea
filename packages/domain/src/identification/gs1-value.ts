import { daysInMonth, fullYear, plainDate } from './calendar-dates.js';
import { firstNonCset82, hasGmnCheckPair, hasGs1CheckDigit } from './check-characters.js';
import { GS1_ELEMENTS } from './gs1-elements.js';
import { LabelError } from './label-error.js';
import type { LabelElement } from './label-reading.js';

/** A date read from a GS1 element, and whether its day was left open as 00. */
export interface Gs1Date {
  readonly date: string;
  readonly dayLeftOpen: boolean;
}

/**
 * Reads YYMMDD (HHMM may follow). Day 00 means the end of the month.
 * @throws LabelError `label.date` when there is no such day or time.
 */
export function readGs1Date(element: LabelElement, yearNow: number): Gs1Date {
  const { identifier, value, position } = element;
  const format = GS1_ELEMENTS.get(identifier);
  const year = fullYear(Number(value.slice(0, 2)), yearNow);
  const month = Number(value.slice(2, 4));
  const day = Number(value.slice(4, 6));
  const dayLeftOpen = day === 0 && format?.date === 'day-00' && month >= 1 && month <= 12;
  const date = plainDate(year, month, dayLeftOpen ? daysInMonth(year, month) : day);
  if (date === null) {
    throw new LabelError(
      'label.date',
      position,
      `Element (${identifier}) says ${value}, which is no date; scan again, or ask the maker for a new label.`,
    );
  }
  if (format?.time && (Number(value.slice(6, 8)) > 23 || Number(value.slice(8, 10)) > 59)) {
    throw new LabelError(
      'label.date',
      position,
      `Element (${identifier}) says ${value}, which is no time of day; scan again, or ask the maker for a new label.`,
    );
  }
  return { date, dayLeftOpen };
}

function refuse(
  code: 'label.character' | 'label.length' | 'label.check-digit',
  element: LabelElement,
  why: string,
) {
  return new LabelError(
    code,
    element.position,
    `Element (${element.identifier}) ${why}; scan again, or ask the maker for a new label.`,
  );
}

/**
 * Checks one element's length, characters, check digit and date.
 * @throws LabelError with the element's position.
 */
export function checkGs1Value(element: LabelElement, yearNow: number): void {
  const { identifier, value, position } = element;
  const format = GS1_ELEMENTS.get(identifier);
  if (!format) {
    throw new LabelError(
      'label.unknown-element',
      position,
      `(${identifier}) is no element of a lens label; scan again, or type the label in its bracketed form.`,
    );
  }
  if (value.length < format.min || value.length > format.max) {
    const wanted = format.min === format.max ? `${format.min}` : `${format.min} to ${format.max}`;
    throw refuse('label.length', element, `holds ${value.length} characters instead of ${wanted}`);
  }
  if (format.numeric && !/^[0-9]+$/.test(value))
    throw refuse('label.character', element, 'may hold digits only');
  if (firstNonCset82(value) >= 0)
    throw refuse('label.character', element, 'holds a character that no label may hold');
  if (format.checkedLength !== undefined && (!hasGs1CheckDigit(value) || /^0+$/.test(value))) {
    throw refuse('label.check-digit', element, 'does not fit its check digit');
  }
  if (identifier === '8013' && !hasGmnCheckPair(value)) {
    throw refuse('label.check-digit', element, 'does not fit its check characters');
  }
  if (format.date) readGs1Date(element, yearNow);
}
