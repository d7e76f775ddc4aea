import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CalculationError } from '../calculation-error.js';
import { linesGained, readAcuity, writeAcuity } from './acuity.js';

describe('reading an acuity', () => {
  it.each([
    ['20/40', 0.30103],
    [' 6 / 12 ', 0.30103],
    ['0,5', 0.30103],
    ['cf', 1.9],
    ['HM', 2.3],
  ])('takes %s', (text, logMar) => expect(readAcuity(text)).toBeCloseTo(logMar, 5));

  it('takes logMAR only where it is announced', () => {
    expect(readAcuity('0.1')).toBeCloseTo(1, 9);
    expect(readAcuity('0.1', 'logmar')).toBe(0.1);
    expect(readAcuity('\u22120.1', 'logmar')).toBe(-0.1);
  });

  it.each(['', 'LP', 'NLP', '20/', '20/0', '0', '-1', '5', '20/40+2', 'NaN', '1e1', '٢٠/٤٠'])(
    'refuses "%s"',
    (text) => {
      expect(() => readAcuity(text)).toThrow(CalculationError);
    },
  );
});

describe('writing an acuity', () => {
  it('comes back within a fiftieth from every notation', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -0.3, max: 1.8, noNaN: true }),
        fc.constantFrom('feet' as const, 'metres' as const, 'decimal' as const),
        (logMar, notation) => {
          expect(Math.abs(readAcuity(writeAcuity(logMar, notation)) - logMar)).toBeLessThan(0.03);
        },
      ),
    );
  });

  it('writes low vision in words and refuses what is no acuity', () => {
    expect(writeAcuity(1.9, 'feet')).toBe('CF');
    expect(writeAcuity(2.3, 'decimal')).toBe('HM');
    expect(writeAcuity(2.3, 'logmar')).toBe('2.3');
    expect(() => writeAcuity(Number.NaN, 'feet')).toThrow(CalculationError);
  });
});

it('counts lines of 0.1 and undoes itself', () => {
  expect(linesGained(0.3, 0.1)).toBeCloseTo(2, 12);
  fc.assert(
    fc.property(
      fc.double({ min: -0.3, max: 2, noNaN: true }),
      fc.double({ min: -0.3, max: 2, noNaN: true }),
      (a, b) => {
        expect(linesGained(a, b)).toBeCloseTo(-linesGained(b, a), 12);
      },
    ),
  );
});
