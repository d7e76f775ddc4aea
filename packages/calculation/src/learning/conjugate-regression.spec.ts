import fc from 'fast-check';
import { jStat } from 'jstat';
import { Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { CalculationError } from '../calculation-error.js';
import { coefficientSds, learnRegression, predictRegression } from './conjugate-regression.js';
import { addSums, regressionSums } from './regression-sums.js';

const belief = {
  mean: [1, -2, 0.5],
  precision: [
    [2, 0.3, 0],
    [0.3, 1, 0.1],
    [0, 0.1, 4],
  ],
  shape: 3,
  rate: 8,
};
const number = fc.integer({ min: -4000, max: 4000 }).map((n) => n / 1000);
const rows = fc.array(fc.record({ x: fc.tuple(number, number, number).map((x) => [...x]), y: number }), {
  minLength: 1,
  maxLength: 30,
});

describe('a linear model that learns', () => {
  it('has the mean that ml-matrix solves for', () => {
    fc.assert(
      fc.property(rows, (given) => {
        const x = new Matrix(given.map((row) => row.x));
        const prior = new Matrix(belief.precision);
        const precision = Matrix.add(prior, x.transpose().mmul(x));
        const right = Matrix.add(
          prior.mmul(Matrix.columnVector(belief.mean)),
          x.transpose().mmul(Matrix.columnVector(given.map(({ y }) => y))),
        );
        const expected = solve(precision, right).to1DArray();
        learnRegression(belief, regressionSums(3, given)).mean.forEach((value, i) =>
          expect(value).toBeCloseTo(expected[i] as number, 8),
        );
      }),
      { numRuns: 60 },
    );
  });

  it('has the evidence that its own predictions, one after the other, multiply to', () => {
    fc.assert(
      fc.property(rows, (given) => {
        let known = regressionSums(3, []);
        let log = 0;
        for (const row of given) {
          const { mean, scale, degreesOfFreedom } = predictRegression(learnRegression(belief, known), row.x);
          log += Math.log(jStat.studentt.pdf((row.y - mean) / scale, degreesOfFreedom) / scale);
          known = addSums(known, regressionSums(3, [row]));
        }
        expect(learnRegression(belief, known).logEvidence).toBeCloseTo(log, 6);
      }),
      { numRuns: 60 },
    );
  });

  it('learns the same from sums of two clinics as from all rows, and forgets a row that is taken out', () => {
    fc.assert(
      fc.property(rows, rows, (first, second) => {
        const [a, b] = [regressionSums(3, first), regressionSums(3, second)];
        const together = learnRegression(belief, regressionSums(3, [...first, ...second]));
        const pooled = learnRegression(belief, addSums(a, b));
        const again = learnRegression(belief, addSums(addSums(a, b), b, -1));
        const alone = learnRegression(belief, a);
        pooled.mean.forEach((value, i) => expect(value).toBeCloseTo(together.mean[i] as number, 8));
        expect(pooled.rate).toBeCloseTo(together.rate, 6);
        again.mean.forEach((value, i) => expect(value).toBeCloseTo(alone.mean[i] as number, 6));
      }),
      { numRuns: 40 },
    );
  });

  it('is surer of its coefficients the more rows it has seen', () => {
    const seen = [1, 2, 3, 4].map((i) => ({ x: [1, i, i * i], y: i }));
    const few = coefficientSds(learnRegression(belief, regressionSums(3, seen)));
    const many = coefficientSds(
      learnRegression(belief, regressionSums(3, Array.from({ length: 40 }, () => seen).flat())),
    );
    many.forEach((sd, i) => expect(sd).toBeLessThan(few[i] as number));
  });

  it('refuses what cannot be, by name', () => {
    const sums = regressionSums(3, []);
    const refusals: (() => unknown)[] = [
      () => regressionSums(2, [{ x: [1], y: 1 }]),
      () => regressionSums(2, [{ x: [1, Number.NaN], y: 1 }]),
      () => addSums(sums, regressionSums(2, [])),
      () => learnRegression({ ...belief, shape: 0 }, sums),
      () => learnRegression({ ...belief, rate: Number.NaN }, sums),
      () => learnRegression(belief, regressionSums(2, [])),
      () => learnRegression({ ...belief, precision: belief.precision.map((row) => row.map(() => 1)) }, sums),
      () => predictRegression(learnRegression(belief, sums), [1, 2]),
      () => predictRegression(learnRegression(belief, sums), [1, 2, Infinity]),
      () => predictRegression(learnRegression(belief, sums), [1, 2, 3], -1),
    ];
    for (const refuse of refusals) expect(refuse).toThrow(CalculationError);
  });
});
