import { LabelValueError } from './label-error.js';

/**
 * The GS1 check digit for the digits before it: weights 3 and 1 from the right, modulo 10.
 * @throws LabelValueError when `digits` holds anything but 1 to 17 digits.
 * @source GS1 General Specifications, section 7.9.1.
 * @example gs1CheckDigit('629104150021') // '3'
 */
export function gs1CheckDigit(digits: string): string {
  if (!/^\d{1,17}$/.test(digits)) throw new LabelValueError('digits', digits, '1 to 17 digits');
  let sum = 0;
  for (let i = 0; i < digits.length; i += 1) {
    sum += Number(digits[digits.length - 1 - i]) * (i % 2 === 0 ? 3 : 1);
  }
  return String((10 - (sum % 10)) % 10);
}

/** True when the last digit is the check digit of the others. Nothing but digits is ever true. */
export function hasGs1CheckDigit(digits: string): boolean {
  return /^\d{2,18}$/.test(digits) && gs1CheckDigit(digits.slice(0, -1)) === digits.at(-1);
}

const HIBC_ALPHABET = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-. $/+%';

/**
 * The HIBC check character: sum of the characters' values modulo 43.
 * @throws LabelValueError when a character is outside the 43 of the HIBC alphabet.
 * @source ANSI/HIBC 2.6, appendix on the modulo 43 check character.
 * @example hibcCheckCharacter('+A123BJC5D6E71') // 'G'
 */
export function hibcCheckCharacter(text: string): string {
  let sum = 0;
  for (const character of text) {
    const value = HIBC_ALPHABET.indexOf(character);
    if (value < 0) throw new LabelValueError('text', text, `made of ${HIBC_ALPHABET}`);
    sum += value;
  }
  return HIBC_ALPHABET.charAt(sum % 43);
}

/** Offset of the first character outside the HIBC alphabet, or -1. */
export function firstNonHibc(text: string): number {
  return [...text].findIndex((character) => !HIBC_ALPHABET.includes(character));
}

const CSET_82 = /^[!"%&'()*+,\-./0-9:;<=>?A-Z_a-z]$/;

/**
 * Offset of the first character outside GS1 character set 82, or -1.
 * @source GS1 General Specifications, figure 7.11-1.
 */
export function firstNonCset82(text: string): number {
  for (let i = 0; i < text.length; i += 1) if (!CSET_82.test(text.charAt(i))) return i;
  return -1;
}

const CSET_82_ORDER = `!"%&'()*+,-./0123456789:;<=>?ABCDEFGHIJKLMNOPQRSTUVWXYZ_abcdefghijklmnopqrstuvwxyz`;
const GMN_ALPHABET = '23456789ABCDEFGHJKLMNPQRSTUVWXYZ';
const PRIMES = [2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53, 59, 61, 67, 71, 73, 79, 83];

/**
 * True when the last two characters of a Global Model Number are its check character pair.
 * @source GS1 General Specifications, section 7.9.5: prime weights from the right, modulo 1021.
 */
export function hasGmnCheckPair(model: string): boolean {
  const body = model.slice(0, -2);
  if (body.length < 1 || body.length > PRIMES.length || firstNonCset82(model) >= 0) return false;
  let sum = 0;
  for (let i = 0; i < body.length; i += 1) {
    sum += CSET_82_ORDER.indexOf(body.charAt(i)) * (PRIMES[body.length - 1 - i] as number);
  }
  sum %= 1021;
  return model.slice(-2) === GMN_ALPHABET.charAt(sum >> 5) + GMN_ALPHABET.charAt(sum & 31);
}
