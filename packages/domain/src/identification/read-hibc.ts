import { firstNonHibc, hibcCheckCharacter } from './check-characters.js';
import { isHibcSecondary, readHibcSecondary, readHibcSupplement } from './hibc-fields.js';
import type { HibcSecondary } from './hibc-fields.js';
import { checkDates } from './interpret-gs1.js';
import { LabelError } from './label-error.js';
import type { LabelElement, LabelReading, LabelWarning } from './label-reading.js';

function splitParts(body: string, offset: number): { text: string; position: number }[] {
  let at = offset;
  return body.split('/').map((text) => {
    const part = { text, position: at };
    at += text.length + 1;
    return part;
  });
}

function readPrimary(text: string, position: number): string {
  if (!/^[A-Z][0-9A-Z]{3}[0-9A-Z]{1,18}[0-9]$/.test(text)) {
    throw new LabelError(
      'label.length',
      position,
      'The product part of this HIBC label needs a labeller (a letter and 3 characters), 1 to 18 characters and a unit digit; scan again.',
    );
  }
  return text;
}

function agree(first: string | undefined, second: string | undefined, what: string, position: number) {
  if (first !== undefined && second !== undefined && first !== second) {
    throw new LabelError(
      'label.contradiction',
      position,
      `This HIBC label gives two different ${what}; quarantine the pack and ask the maker.`,
    );
  }
  return first ?? second;
}

/** Checks characters and the modulo 43 check, and returns the text between `+` and the check character. */
function checkedBody(text: string, offset: number): string {
  const odd = firstNonHibc(text);
  if (odd >= 0) {
    throw new LabelError(
      'label.character',
      offset + odd,
      'A HIBC label holds capital letters, digits and -. $/+% only; scan again.',
    );
  }
  if (text.length < 4)
    throw new LabelError('label.length', offset, 'This HIBC label is cut short; scan again.');
  const check = text.at(-1) as string;
  if (hibcCheckCharacter(text.slice(0, -1)) !== check) {
    throw new LabelError(
      'label.check-digit',
      offset + text.length - 1,
      'The HIBC label does not fit its check character; scan again, or ask the maker for a new label.',
    );
  }
  return text.slice(1, -1);
}

/**
 * Reads a HIBC supplier label: primary, secondary (with its link character) or both in one symbol.
 * @param text begins with `+`; a caption's asterisks must be gone.
 * @throws LabelError when check character, structure, date or characters are wrong.
 * @source ANSI/HIBC 2.6 supplier labeling standard.
 */
export function readHibc(text: string, offset: number, today: string, raw: string): LabelReading {
  const yearNow = Number(today.slice(0, 4));
  const body = checkedBody(text, offset);
  const alone = isHibcSecondary(body);
  // A secondary symbol of its own ends in a link character, which repeats the primary's check character.
  const parts = splitParts(alone ? body.slice(0, -1) : body, offset + 1);
  const warnings: LabelWarning[] = [];
  const elements: LabelElement[] = [];
  const first = parts.shift() as { text: string; position: number };
  let hibcPrimary: string | undefined;
  if (alone) {
    parts.unshift(first);
    warnings.push({ code: 'no-product', message: 'No product here: scan the other symbol on the pack too.' });
  } else {
    hibcPrimary = readPrimary(first.text, first.position);
    elements.push({ identifier: '+', value: hibcPrimary, position: first.position });
  }
  let secondary: HibcSecondary = { monthOnly: false };
  const next = parts[0];
  if (next && isHibcSecondary(next.text)) {
    secondary = readHibcSecondary(next.text, next.position, yearNow);
    elements.push({ identifier: '$', value: next.text, position: next.position });
    parts.shift();
  }
  for (const part of parts) {
    const element = readHibcSupplement(part.text, part.position);
    const before = elements.find((other) => other.identifier === element.identifier);
    if (before) agree(before.value, element.value, `values for ${element.identifier}`, element.position);
    elements.push(element);
  }
  const supplement = (identifier: string) => elements.find((element) => element.identifier === identifier);
  const madeOn = supplement('16D')?.value;
  const expiresOn = expiry(secondary, supplement('14D'), warnings);
  const serial = agree(secondary.serial, supplement('S')?.value, 'serial numbers', offset);
  checkDates(madeOn, expiresOn, today, warnings);
  return {
    scheme: 'hibc',
    ...(hibcPrimary !== undefined && { hibcPrimary }),
    ...(serial !== undefined && { serial }),
    ...(secondary.lot !== undefined && { lot: secondary.lot }),
    ...(expiresOn !== undefined && { expiresOn }),
    ...(madeOn !== undefined && { madeOn }),
    elements,
    warnings,
    raw,
  };
}

function expiry(secondary: HibcSecondary, day: LabelElement | undefined, warnings: LabelWarning[]) {
  // A month alone agrees with any day in it, and the day is then the better information.
  if (secondary.monthOnly && day && secondary.expiresOn?.slice(0, 7) === day.value.slice(0, 7))
    return day.value;
  if (secondary.monthOnly) {
    warnings.push({
      code: 'month-only',
      message: `The label gives only the month of expiry; its end, ${secondary.expiresOn}, is taken.`,
    });
  }
  return agree(secondary.expiresOn, day?.value, 'expiry dates', day?.position ?? 0);
}
