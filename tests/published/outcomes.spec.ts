import { describe, expect, it } from 'vitest';
import {
  analyseVectors,
  decimalFromLogMar,
  fisherExactTest,
  LOW_VISION_LOG_MAR,
  logMarFromDecimal,
  logMarFromFraction,
  mannWhitneyTest,
  readAcuity,
  refractiveAstigmatism,
  welchTest,
  wilsonInterval,
  writeAcuity,
} from '../../packages/calculation/src/index.js';

describe('acuity in four notations', () => {
  it.each([
    ['20/10', '6/3', 2.0, -0.301], // Bach, michaelbach.de/sci/acuity.html
    ['20/12.5', '6/3.75', 1.6, -0.204], // Bach, michaelbach.de/sci/acuity.html
    ['20/16', '6/4.8', 1.25, -0.097], // Bach, michaelbach.de/sci/acuity.html
    ['20/20', '6/6', 1, 0], // Bach, michaelbach.de/sci/acuity.html
    ['20/25', '6/7.5', 0.8, 0.097], // Bach, michaelbach.de/sci/acuity.html
    ['20/32', '6/9.6', 0.625, 0.204], // Bach, michaelbach.de/sci/acuity.html
    ['20/40', '6/12', 0.5, 0.301], // Bach, michaelbach.de/sci/acuity.html
    ['20/50', '6/15', 0.4, 0.398], // Bach, michaelbach.de/sci/acuity.html
    ['20/63', '6/18.9', 0.317, 0.498], // Bach, michaelbach.de/sci/acuity.html
    ['20/80', '6/24', 0.25, 0.602], // Bach, michaelbach.de/sci/acuity.html
    ['20/100', '6/30', 0.2, 0.699], // Bach, michaelbach.de/sci/acuity.html
    ['20/160', '6/48', 0.125, 0.903], // Bach, michaelbach.de/sci/acuity.html
    ['20/200', '6/60', 0.1, 1.0], // Bach, michaelbach.de/sci/acuity.html
  ])('%s is %s, decimal %f, logMAR %f', (feet, metres, decimal, logMar) => {
    expect(readAcuity(feet)).toBeCloseTo(logMar, 3);
    expect(readAcuity(metres)).toBeCloseTo(logMar, 3);
    expect(Math.abs(decimalFromLogMar(readAcuity(feet)) - decimal)).toBeLessThan(0.0006);
    expect(Math.abs(logMarFromDecimal(decimal) - logMar)).toBeLessThan(0.0011);
    expect(writeAcuity(logMar, 'feet')).toBe(feet);
    expect(writeAcuity(logMar, 'metres')).toBe(metres);
  });

  it('knows the true values of 20/30 and 20/60, and low vision', () => {
    expect(logMarFromFraction(20, 30)).toBeCloseTo(0.176, 3); // Bach, michaelbach.de/sci/acuity.html
    expect(logMarFromFraction(20, 60)).toBeCloseTo(0.477, 3); // Bach, michaelbach.de/sci/acuity.html
    expect(LOW_VISION_LOG_MAR).toEqual({ 'count-fingers': 1.9, 'hand-movement': 2.3 }); // Bach, michaelbach.de/sci/acuity.html
  });
});

describe('vector analysis, recomputed from the formulas in double-angle space', () => {
  it.each([
    [
      '4@30 → 0 → 1@60',
      [4, 30],
      [0, 0],
      [1, 60],
      [4.0, 120],
      [3.606, 113.05],
      [1, 150],
      [0.901, -6.95, 0.25, 0.875],
    ], // Alpins, J Cataract Refract Surg 2001;27:31-49, formulas; recomputed
    [
      '3@90 → 0 → 0.75@105',
      [3, 90],
      [0, 0],
      [0.75, 105],
      [3, 180],
      [2.38, 175.47],
      [0.75, 15],
      [0.793, -4.53, 0.25, 0.783],
    ], // Alpins 2001, formulas; recomputed
    [
      '2.5@175 → 0.5@90 → 0.5@20',
      [2.5, 175],
      [0.5, 90],
      [0.5, 20],
      [2.994, 85.83],
      [2.212, 80.01],
      [0.94, 100],
      [0.739, -5.82, 0.314, 0.724],
    ], // Alpins 2001, formulas; recomputed
  ] as const)('%s', (_, pre, target, post, tia, sia, dv, [ci, ae, ios, fi]) => {
    const at = ([magnitudeD, axisDeg]: readonly [number, number]) => ({ magnitudeD, axisDeg });
    const found = analyseVectors(at(pre), at(target), at(post));
    const expectVector = (
      vector: { magnitudeD: number; axisDeg: number },
      [size, axis]: readonly [number, number],
    ) => {
      expect(vector.magnitudeD).toBeCloseTo(size, 3);
      expect(vector.axisDeg).toBeCloseTo(axis % 180, 2);
    };
    expectVector(found.targetInduced, tia);
    expectVector(found.surgicallyInduced, sia);
    expectVector(found.difference, dv);
    expect(found.indices?.correction).toBeCloseTo(ci, 3);
    expect(found.indices?.angleOfErrorDeg).toBeCloseTo(ae, 2);
    expect(found.indices?.success).toBeCloseTo(ios, 3);
    expect(found.indices?.flattening).toBeCloseTo(fi, 3);
  });

  it('takes a spectacle cylinder to the cornea first', () => {
    const cornea = refractiveAstigmatism({ sphereD: -8, cylinderD: -4, axisDeg: 30, vertexMm: 12 });
    expect(cornea.magnitudeD).toBeCloseTo(3.19, 3); // Holladay, Am J Ophthalmol 1993;116:63-66, vertex step; recomputed
    expect(cornea.axisDeg).toBeCloseTo(30, 9); // Holladay 1993; recomputed
  });
});

describe('shares with Wilson limits', () => {
  it.each([
    [4, 23, 6.98, 37.14], // Wilson, J Am Stat Assoc 1927;22:209-212, formula; recomputed
    [27, 30, 74.38, 96.54], // Wilson 1927, formula; recomputed
    [30, 30, 88.65, 100], // Wilson 1927, formula; recomputed
    [0, 40, 0, 8.76], // Wilson 1927, formula; recomputed
    [18, 40, 30.71, 60.17], // Wilson 1927, formula; recomputed
    [64, 72, 79.58, 94.26], // Wilson 1927, formula; recomputed
  ])('%i of %i lie between %f and %f %%', (count, n, low, high) => {
    const found = wilsonInterval(count, n);
    expect(100 * found.low).toBeCloseTo(low, 2);
    expect(100 * found.high).toBeCloseTo(high, 2);
  });
});

describe('tests of two groups, as R prints them', () => {
  it('Welch on the extra sleep of two drugs', () => {
    const first = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0]; // Student 1908, R data set "sleep", group 1, from memory
    const second = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4]; // Student 1908, R data set "sleep", group 2, from memory
    const test = welchTest(first, second);
    expect(test.t).toBeCloseTo(-1.8608, 4); // R, t.test(extra ~ group, data = sleep), from memory
    expect(test.degreesOfFreedom).toBeCloseTo(17.776, 3); // R, as above
    expect(test.p).toBeCloseTo(0.07939, 5); // R, as above
    expect(test.low).toBeCloseTo(-3.3654832, 6); // R, as above
    expect(test.high).toBeCloseTo(0.2054832, 6); // R, as above
  });

  it('Mann-Whitney on the permeability of two membranes', () => {
    const term = [0.8, 0.83, 1.89, 1.04, 1.45, 1.38, 1.91, 1.64, 0.73, 1.46]; // Hollander & Wolfe 1973, p. 69, as in R's help of wilcox.test, from memory
    const early = [1.15, 0.88, 0.9, 0.74, 1.21]; // Hollander & Wolfe 1973, p. 69, from memory
    const test = mannWhitneyTest(term, early);
    expect(test.u).toBe(35); // R, wilcox.test: W = 35, from memory
    expect(test.p / 2).toBeCloseTo(0.1272, 4); // R, wilcox.test(alternative = "g"): p = 0.1272, from memory
  });

  it('Fisher on the lady who tastes tea', () => {
    const { p } = fisherExactTest({ count: 3, n: 4 }, { count: 1, n: 4 }); // Fisher 1935, The Design of Experiments
    expect(p).toBeCloseTo(0.4857, 4); // R, fisher.test(TeaTasting), two-sided, from memory
  });
});
