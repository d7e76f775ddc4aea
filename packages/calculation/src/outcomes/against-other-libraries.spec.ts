import { jStat } from 'jstat';
import { EigenvalueDecomposition, Matrix, solve } from 'ml-matrix';
import * as mathjs from 'mathjs';
import { describe, expect, it } from 'vitest';
import { CalculationError } from '../calculation-error.js';
import { describeSample } from './describe-sample.js';
import {
  betaBelow,
  chiSquareAbove,
  fAbove,
  logGamma,
  studentQuantile,
  studentTwoSided,
} from './distributions.js';
import { summariseDoubleAngle } from './double-angle-plot.js';
import { linearRegression } from './regression.js';
import { solveLinear } from './solve-linear.js';
import { doubleAngle } from './vector-analysis.js';

function repeatable(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (state + 0.5) / 2 ** 32;
  };
}
const next = repeatable(99);
const sample = (n: number, scale = 1) =>
  Array.from({ length: n }, () => scale * (next() + next() + next() - 1.5));

describe('distributions', () => {
  it('have the closed forms that one and two degrees of freedom allow', () => {
    for (const t of [0.01, 0.7, 3, 25]) {
      expect(studentTwoSided(t, 1)).toBeCloseTo(1 - (2 / Math.PI) * Math.atan(t), 13);
      expect(studentTwoSided(t, 2)).toBeCloseTo(1 - t / Math.sqrt(2 + t * t), 13);
      expect(chiSquareAbove(t, 2)).toBeCloseTo(Math.exp(-t / 2), 13);
      expect(fAbove(t, 2, 9)).toBeCloseTo((1 + (2 * t) / 9) ** -4.5, 13);
    }
  });

  it('equal jStat to 1e-6', () => {
    for (const df of [1, 2, 3.7, 10, 45.2, 300]) {
      for (const x of [0.01, 0.5, 1, 2.3, 5, 12, 40]) {
        expect(chiSquareAbove(x, df)).toBeCloseTo(1 - jStat.chisquare.cdf(x, df), 9);
        expect(studentTwoSided(x, df)).toBeCloseTo(2 * (1 - jStat.studentt.cdf(x, df)), 6);
        expect(fAbove(x, df, 7)).toBeCloseTo(1 - jStat.centralF.cdf(x, df, 7), 6);
        expect(logGamma(x)).toBeCloseTo(jStat.gammaln(x), 8);
        expect(betaBelow(x / 41, df, 3)).toBeCloseTo(jStat.ibeta(x / 41, df, 3) as number, 6);
      }
      for (const p of [0.001, 0.025, 0.3, 0.5, 0.9, 0.975]) {
        expect(studentQuantile(p, df) / (jStat.studentt.inv(p, df) || 1)).toBeCloseTo(p === 0.5 ? 0 : 1, 6);
      }
    }
  });

  it('equal mathjs for the gamma function', () => {
    for (const x of [0.1, 1, 4.5, 20])
      expect(Math.exp(logGamma(x)) / (mathjs.gamma(x) as number)).toBeCloseTo(1, 10);
  });
});

describe('regression', () => {
  const xs = sample(40, 6);
  const points = xs.map((x) => ({ x, y: -0.2 + 0.95 * x + 0.4 * (next() - 0.5) }));
  const found = linearRegression(points);

  it('equals the least squares of ml-matrix', () => {
    const design = new Matrix(points.map(({ x }) => [1, x]));
    const fitted = solve(design, Matrix.columnVector(points.map(({ y }) => y)));
    expect(found.intercept).toBeCloseTo(fitted.get(0, 0), 9);
    expect(found.slope).toBeCloseTo(fitted.get(1, 0), 9);
  });

  it('equals the model of jStat', () => {
    const model = jStat.models.ols(
      points.map(({ y }) => y),
      points.map(({ x }) => [1, x]),
    );
    expect(found.slope).toBeCloseTo(model.coef[1] as number, 6);
    expect(found.rSquared).toBeCloseTo(model.R2, 6);
    expect(found.slopeP).toBeCloseTo(model.t.p[1] as number, 6);
    expect(found.slopeStandardError).toBeCloseTo(model.t.se[1] as number, 6);
    expect(found.interceptStandardError).toBeCloseTo(model.t.se[0] as number, 6);
  });

  it('has the limits that the general libraries give for the slope, for the mean at a place and for one eye there', () => {
    const model = jStat.models.ols(
      points.map(({ y }) => y),
      points.map(({ x }) => [1, x]),
    );
    const reach = jStat.studentt.inv(0.975, points.length - 2);
    const [slope, error] = [model.coef[1] as number, model.t.se[1] as number];
    expect(found.slopeLow).toBeCloseTo(slope - reach * error, 6);
    expect(found.slopeHigh).toBeCloseTo(slope + reach * error, 6);
    const design = new Matrix(points.map(({ x }) => [1, x]));
    const inverse = mathjs.inv(design.transpose().mmul(design).to2DArray()) as number[][];
    const residuals = points.map(({ x, y }) => y - (model.coef[0] as number) - slope * x);
    const variance = jStat.sumsqrd(residuals) / (points.length - 2);
    for (const x of [-6, 0, 2.5, 11]) {
      const leverage = mathjs.multiply(mathjs.multiply([1, x], inverse), [1, x]) as unknown as number;
      const at = found.at(x);
      expect(at.estimate).toBeCloseTo((model.coef[0] as number) + slope * x, 6);
      expect(at.meanHigh - at.estimate).toBeCloseTo(reach * Math.sqrt(variance * leverage), 6);
      expect(at.estimate - at.meanLow).toBeCloseTo(reach * Math.sqrt(variance * leverage), 6);
      expect(at.eyeHigh - at.estimate).toBeCloseTo(reach * Math.sqrt(variance * (1 + leverage)), 6);
      expect(at.estimate - at.eyeLow).toBeCloseTo(reach * Math.sqrt(variance * (1 + leverage)), 6);
    }
  });

  it('has a wider interval for one eye than for the mean, narrowest in the middle', () => {
    const [middle, side] = [found.at(describeSample(xs).mean), found.at(8)];
    expect(middle.eyeHigh - middle.eyeLow).toBeGreaterThan(middle.meanHigh - middle.meanLow);
    expect(side.meanHigh - side.meanLow).toBeGreaterThan(middle.meanHigh - middle.meanLow);
  });

  it('says a perfect line plainly and refuses a vertical one', () => {
    const line = [1, 2, 3].map((x) => ({ x, y: 2 * x }));
    expect(linearRegression(line)).toMatchObject({
      slope: 2,
      intercept: 0,
      rSquared: 1,
      residualSd: 0,
      slopeP: 0,
    });
    expect(linearRegression([1, 2, 3].map((x) => ({ x, y: 4 })))).toMatchObject({
      slope: 0,
      rSquared: 0,
      slopeP: 1,
    });
    expect(() => linearRegression([1, 2, 3].map((y) => ({ x: 1, y })))).toThrow(CalculationError);
    expect(() => linearRegression(line.slice(1))).toThrow(CalculationError);
  });
});

describe('small algebra', () => {
  it('solves as ml-matrix does, and says when it cannot', () => {
    const rows = [sample(4), sample(4), sample(4), sample(4)];
    const right = sample(4);
    const expected = solve(new Matrix(rows), Matrix.columnVector(right)).to1DArray();
    solveLinear(rows, right)?.forEach((x, i) => expect(x).toBeCloseTo(expected[i] as number, 8));
    expect(solveLinear(rows, right)).toHaveLength(4);
    expect(
      solveLinear(
        [
          [1, 2],
          [2, 4],
        ],
        [1, 2],
      ),
    ).toBeNull();
  });

  it('has the half axes that the eigenvalues of the covariance give', () => {
    const eyes = sample(30, 2).map((value, i) => ({
      magnitudeD: Math.abs(value) + 0.1,
      axisDeg: (i * 37) % 180,
    }));
    const points = eyes.map(doubleAngle);
    const [xs, ys] = [points.map(({ x }) => x), points.map(({ y }) => y)];
    const covariance = [
      [jStat.covariance(xs, xs), jStat.covariance(xs, ys)],
      [jStat.covariance(xs, ys), jStat.covariance(ys, ys)],
    ];
    const values = new EigenvalueDecomposition(new Matrix(covariance)).realEigenvalues.sort((a, b) => b - a);
    const { spread, ofCentroid, sdX } = summariseDoubleAngle(eyes);
    const chi = jStat.chisquare.inv(0.95, 2);
    expect(spread.halfLongD).toBeCloseTo(Math.sqrt(chi * (values[0] as number)), 6);
    expect(spread.halfShortD).toBeCloseTo(Math.sqrt(chi * (values[1] as number)), 6);
    const f = (2 * 29 * jStat.centralF.inv(0.95, 2, 28)) / (30 * 28);
    expect(ofCentroid.halfLongD).toBeCloseTo(Math.sqrt(f * (values[0] as number)), 6);
    expect(sdX).toBeCloseTo(jStat.stdev(xs, true), 9);
  });

  it('describes a sample as jStat does', () => {
    const values = sample(21, 3);
    const found = describeSample(values);
    expect(found.mean).toBeCloseTo(jStat.mean(values), 10);
    expect(found.sd).toBeCloseTo(jStat.stdev(values, true), 10);
    expect(found.median).toBeCloseTo(jStat.median(values), 10);
    expect(found.lowerQuartile).toBeCloseTo(jStat.percentile(values, 0.25), 10);
  });
});
