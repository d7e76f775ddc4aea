import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CalculationError } from '../calculation-error.js';
import { flatSums, sumsOf } from './flat-sums.js';
import { addSums, regressionSums } from './regression-sums.js';

const rows = (width: number) =>
  fc.array(
    fc.record({
      x: fc.array(fc.integer({ min: -50, max: 50 }), { minLength: width, maxLength: width }),
      y: fc.integer({ min: -900, max: 900 }),
    }),
    { maxLength: 8 },
  );

describe('sums as one list', () => {
  it('come back as they were, and add up number by number as the sums do', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 5 }).chain((w) => fc.tuple(fc.constant(w), rows(w), rows(w))),
        ([w, a, b]) => {
          const [one, two] = [regressionSums(w, a), regressionSums(w, b)];
          expect(sumsOf(flatSums(one))).toEqual(one);
          const second = flatSums(two);
          const added = flatSums(one).map((value, i) => value + (second[i] as number));
          expect(sumsOf(added)).toEqual(addSums(one, two));
        },
      ),
    );
  });

  it('refuse a list of another length or with something else in it', () => {
    for (const bad of [[], [1, 2, 3], [1, 2, 3, Number.NaN], [1, 2, 3, 4, 5]])
      expect(() => sumsOf(bad)).toThrow(CalculationError);
  });
});
