import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { firstNonCset82 } from './check-characters.js';
import { LabelError, LabelValueError } from './label-error.js';
import type { LabelLens } from './label-reading.js';
import { looksLikeLensElement, readLensElement, writeLensElement } from './lens-element.js';

const lens: LabelLens = {
  eye: 'RIGHT',
  sphereD: -9.25,
  cylinderD: -4.75,
  axisDeg: 32,
  lengthMm: 12.5,
  caseCode: 'EST-0042R',
};

const anyLens: fc.Arbitrary<LabelLens> = fc
  .record({
    eye: fc.constantFrom('RIGHT' as const, 'LEFT' as const),
    sphere: fc.integer({ min: -4000, max: 4000 }),
    cylinder: fc.integer({ min: -2000, max: 0 }),
    axis: fc.integer({ min: 1, max: 180 }),
    length: fc.integer({ min: 800, max: 1600 }),
    clinic: fc.stringMatching(/^[A-Z]{2,5}$/),
    number: fc.integer({ min: 0, max: 999_999 }),
  })
  .map(({ eye, sphere, cylinder, axis, length, clinic, number }) => ({
    eye,
    sphereD: sphere / 100,
    cylinderD: cylinder === 0 ? 0 : cylinder / 100,
    axisDeg: cylinder === 0 ? null : axis,
    lengthMm: length / 100,
    caseCode: `${clinic}-${String(number).padStart(4, '0')}${eye === 'RIGHT' ? 'R' : 'L'}`,
  }));

describe('the lens on a label', () => {
  it('is written in one readable line', () => {
    expect(writeLensElement(lens)).toMatch(/^1R:S-0925:C-0475:A032:D1250:EST-0042R:[A-Z2-9]{2}$/);
  });

  it('comes back as it was written, within 90 characters of set 82', () => {
    fc.assert(
      fc.property(anyLens, (any) => {
        const text = writeLensElement(any);
        expect(text.length).toBeLessThanOrEqual(90);
        expect(firstNonCset82(text)).toBe(-1);
        expect(readLensElement(text)).toEqual(any);
      }),
      { numRuns: 2000 },
    );
  });

  it('is refused with any one character changed', () => {
    const text = writeLensElement(lens);
    for (let i = 0; i < text.length; i += 1) {
      for (const other of '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ+-:') {
        if (other === text[i]) continue;
        const mutant = text.slice(0, i) + other + text.slice(i + 1);
        expect(() => readLensElement(mutant), mutant).toThrow(LabelError);
        expect(looksLikeLensElement(mutant), mutant).toBe(true);
      }
    }
  });

  it('is refused with any two characters swapped', () => {
    fc.assert(
      fc.property(anyLens, fc.nat(), fc.nat(), (any, a, b) => {
        const text = [...writeLensElement(any)];
        const i = a % text.length;
        const j = b % text.length;
        fc.pre(text[i] !== text[j]);
        [text[i], text[j]] = [text[j] as string, text[i] as string];
        expect(() => readLensElement(text.join(''))).toThrow(LabelError);
      }),
      { numRuns: 5000 },
    );
  });

  it.each([
    ['sphereD', { sphereD: -9.255 }],
    ['sphereD', { sphereD: Number.NaN }],
    ['sphereD', { sphereD: 40.01 }],
    ['cylinderD', { cylinderD: 0.25 }],
    ['axisDeg', { axisDeg: 0 }],
    ['axisDeg', { axisDeg: 181 }],
    ['axisDeg', { axisDeg: 32.5 }],
    ['axisDeg', { axisDeg: null }],
    ['axisDeg', { cylinderD: 0 }],
    ['lengthMm', { lengthMm: 16.25 }],
    ['caseCode', { caseCode: 'EST-0042L' }],
    ['caseCode', { caseCode: 'Łódź-0042R' }],
  ])('cannot be written with a wrong %s: %o', (field, change) => {
    try {
      writeLensElement({ ...lens, ...change });
      expect.unreachable();
    } catch (error) {
      expect(error).toBeInstanceOf(LabelValueError);
      expect((error as LabelValueError).field).toBe(field);
    }
  });
});

describe('the weights of the check characters', () => {
  it('differ at each of the first 1020 places, because 10 generates all residues modulo 1021', () => {
    const seen = new Set<number>();
    for (let power = 0, value = 1; power < 1020; power += 1, value = (value * 10) % 1021) seen.add(value);
    expect(seen.size).toBe(1020);
  });
});
