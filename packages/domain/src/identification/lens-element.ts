import { LabelError, LabelValueError } from './label-error.js';
import type { LabelLens } from './label-reading.js';

// Lensferry's own notation for GS1 element (91), company-internal information. One line, fixed order, every
// part led by its letter, so that no sign or decimal point can be lost or moved:
//   1R:S-0925:C-0475:A032:D1250:EST-0042R:xx
//   notation 1, eye R; Sphere and Cylinder in signed hundredths of a dioptre; Axis in degrees (000 = none);
//   overall Diameter in hundredths of a millimetre; case code; two check characters.
// Colons keep it readable and are neither brackets nor anything that a HIBC or bracketed label could swallow.
const SHAPE = /^1([RL]):S([+-]\d{4}):C([+-]\d{4}):A(\d{3}):D(\d{4}):([A-Z]{2,5}-\d{4,6}[RL]):([A-Z2-9]{2})$/;

/** Ranges of what the notation carries: powers in dioptres, length in millimetres. */
export const LENS_ELEMENT_RANGES = {
  sphereD: [-40, 40],
  cylinderD: [-20, 0],
  axisDeg: [1, 180],
  lengthMm: [8, 16],
} as const;

const VALUES = '+-:0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ';
// 32 characters without I, O, 0 and 1, which people confuse when they type.
const CHECK_ALPHABET = 'ABCDEFGHJKLMNPQRSTUVWXYZ23456789';
// 1021 is the largest prime below 32 squared and 10 generates all of its residues, so every place up to 1020
// has its own weight: one wrong character, or two that changed places, always changes the check.
const MODULUS = 1021;
const WEIGHT_STEP = 10;

/** The two check characters of a lens element's text. Exported for tests. */
export function lensElementCheck(text: string): string {
  let sum = 0;
  for (const character of text) sum = (sum * WEIGHT_STEP + VALUES.indexOf(character) + 1) % MODULUS;
  const scaled = (sum * WEIGHT_STEP) % MODULUS;
  return CHECK_ALPHABET.charAt(Math.floor(scaled / 32)) + CHECK_ALPHABET.charAt(scaled % 32);
}

function inHundredths(field: keyof typeof LENS_ELEMENT_RANGES, value: number): number {
  const [from, to] = LENS_ELEMENT_RANGES[field];
  const hundredths = Math.round(value * 100);
  if (!(value >= from && value <= to) || Math.abs(value * 100 - hundredths) > 1e-6) {
    throw new LabelValueError(field, value, `from ${from} to ${to} in hundredths`);
  }
  return hundredths;
}

function signed(hundredths: number): string {
  return (hundredths < 0 ? '-' : '+') + String(Math.abs(hundredths)).padStart(4, '0');
}

/**
 * Writes a lens in Lensferry's notation for GS1 element (91): 40 to 45 characters of character set 82.
 * @throws LabelValueError when a value is outside its range or finer than a hundredth.
 * @example writeLensElement({ eye: 'RIGHT', sphereD: -9.25, cylinderD: -4.75, axisDeg: 32, lengthMm: 12.5,
 *   caseCode: 'EST-0042R' }) // '1R:S-0925:C-0475:A032:D1250:EST-0042R:' and two check characters
 */
export function writeLensElement(lens: LabelLens): string {
  const sphere = inHundredths('sphereD', lens.sphereD);
  const cylinder = inHundredths('cylinderD', lens.cylinderD);
  const length = inHundredths('lengthMm', lens.lengthMm);
  if (lens.eye !== 'RIGHT' && lens.eye !== 'LEFT')
    throw new LabelValueError('eye', lens.eye, 'RIGHT or LEFT');
  const eye = lens.eye === 'RIGHT' ? 'R' : 'L';
  if (!/^[A-Z]{2,5}-\d{4,6}[RL]$/.test(lens.caseCode) || !lens.caseCode.endsWith(eye)) {
    throw new LabelValueError(
      'caseCode',
      lens.caseCode,
      `a case code that ends in ${eye}, as EST-0042${eye}`,
    );
  }
  const axis = lens.axisDeg;
  if (cylinder === 0 && axis !== null) throw new LabelValueError('axisDeg', axis, 'null without a cylinder');
  if (cylinder !== 0 && !(axis !== null && Number.isInteger(axis) && axis >= 1 && axis <= 180)) {
    throw new LabelValueError('axisDeg', axis, 'a whole number from 1 to 180');
  }
  const parts = [
    `1${eye}`,
    `S${signed(sphere)}`,
    `C${signed(cylinder)}`,
    `A${String(axis ?? 0).padStart(3, '0')}`,
    `D${String(length).padStart(4, '0')}`,
    lens.caseCode,
  ];
  const text = parts.join(':');
  return `${text}:${lensElementCheck(text)}`;
}

/** True when a (91) element is meant to be in Lensferry's notation, even if a character of it is damaged. */
export function looksLikeLensElement(text: string): boolean {
  return /^1[RL]:/.test(text) || /:[SC][+-]\d|:A\d{3}:|:D\d{4}:/.test(text);
}

/**
 * Reads a lens from Lensferry's notation.
 * @param position where the element begins in the scanned text, for the error.
 * @throws LabelError `label.lens-element` when the shape, the check characters or a value is wrong.
 */
export function readLensElement(text: string, position = 0): LabelLens {
  const refuse = (why: string): never => {
    throw new LabelError(
      'label.lens-element',
      position,
      `${why}; scan again, or ask the maker for a new label.`,
    );
  };
  const match = SHAPE.exec(text);
  if (!match) return refuse('The lens printed in element (91) is incomplete or garbled');
  const [, eye, sphere, cylinder, axis, length, caseCode, check] = match as unknown as string[];
  if (lensElementCheck(text.slice(0, -3)) !== check) {
    return refuse('The check characters of the lens in element (91) do not fit');
  }
  const lens: LabelLens = {
    eye: eye === 'R' ? 'RIGHT' : 'LEFT',
    sphereD: Number(sphere) / 100,
    cylinderD: Number(cylinder) / 100,
    axisDeg: axis === '000' ? null : Number(axis),
    lengthMm: Number(length) / 100,
    caseCode: caseCode as string,
  };
  // Writing it back refuses every value out of range, -0000, and an eye that the case code contradicts.
  try {
    if (writeLensElement(lens) === text) return lens;
  } catch (error) {
    if (error instanceof LabelValueError)
      return refuse(`The lens in element (91) is impossible: ${error.field}`);
    throw error;
  }
  return refuse('The lens in element (91) is not written in the one permitted way');
}
