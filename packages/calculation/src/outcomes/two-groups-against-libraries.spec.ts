import { jStat } from 'jstat';
import { describe, expect, it } from 'vitest';
import { CalculationError } from '../calculation-error.js';
import { welchTest } from './compare-means.js';
import { mannWhitneyTest } from './compare-ranks.js';
import { fisherExactTest } from './compare-shares.js';

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
/** As refractions are written down, so that many are equal. */
const quarters = (n: number, shift = 0) => sample(n, 2).map((value) => Math.round((value + shift) * 4) / 4);

/** Every way to choose so many of the values as the first group. */
function everyFirstGroup(values: readonly number[], size: number): number[][] {
  if (size === 0) return [[]];
  return values.flatMap((value, i) =>
    everyFirstGroup(values.slice(i + 1), size - 1).map((rest) => [value, ...rest]),
  );
}

describe('tests of two groups', () => {
  it('Welch has the t and p that jStat gives from the same parts', () => {
    const [a, b] = [sample(17), sample(30, 2.5).map((value) => value + 0.4)];
    const found = welchTest(a, b);
    const [va, vb] = [jStat.variance(a, true) / 17, jStat.variance(b, true) / 30];
    const t = (jStat.mean(a) - jStat.mean(b)) / Math.sqrt(va + vb);
    const df = (va + vb) ** 2 / (va ** 2 / 16 + vb ** 2 / 29);
    expect(found.t).toBeCloseTo(t, 9);
    expect(found.p).toBeCloseTo(2 * jStat.studentt.cdf(-Math.abs(t), df), 8);
    expect(() => welchTest([1, 1], [1, 1])).toThrow(CalculationError);
  });

  it('Mann-Whitney counts every order of small groups', () => {
    const [a, b] = [
      [1.1, 3.2, 4.8],
      [0.5, 2.7, 3.9, 5.5, 6.1],
    ];
    const all = [...a, ...b].sort((x, y) => x - y);
    const larger = (chosen: readonly number[], rest: readonly number[]) =>
      chosen.reduce((sum, x) => sum + rest.filter((y) => x > y).length, 0);
    const us: number[] = [];
    for (let mask = 0; mask < 256; mask += 1) {
      const chosen = all.filter((_, i) => (mask >> i) & 1);
      if (chosen.length === 3)
        us.push(
          larger(
            chosen,
            all.filter((x) => !chosen.includes(x)),
          ),
        );
    }
    const u = larger(a, b);
    const extreme = Math.min(u, 15 - u);
    expect(us).toHaveLength(56);
    expect(mannWhitneyTest(a, b)).toMatchObject({
      u,
      p: Math.min(1, (2 * us.filter((x) => x <= extreme).length) / 56),
    });
  });

  it('Mann-Whitney is near its approximation for larger groups, and swaps with the groups', () => {
    const [a, b] = [sample(45), sample(48).map((value) => value + 0.25)];
    const exact = mannWhitneyTest(a, b);
    const approximate = mannWhitneyTest([...a, 99, 99, 99, 99, 99], [...b, 99, 99, 99]);
    expect(exact.test).toContain('exact');
    expect(approximate.test).toContain('approximation');
    expect(mannWhitneyTest(b, a).p).toBeCloseTo(exact.p, 12);
    const z = (Math.abs(exact.u - (45 * 48) / 2) - 0.5) / Math.sqrt((45 * 48 * 94) / 12);
    expect(exact.p).toBeCloseTo(2 * (1 - jStat.normal.cdf(z, 0, 1)), 2);
    expect(mannWhitneyTest([1, 1], [1, 1, 1]).p).toBe(1);
  });

  it('Fisher sums the hypergeometric chances of jStat', () => {
    for (const [a, m, b, n] of [
      [3, 20, 9, 24],
      [0, 12, 5, 10],
      [7, 9, 7, 9],
      [1, 80, 11, 95],
    ] as const) {
      const chances = Array.from({ length: m + 1 }, (_, k) => jStat.hypgeom.pdf(k, m + n, m, a + b));
      const seen = chances[a] as number;
      const p = chances
        .filter((chance) => chance <= seen * (1 + 1e-7))
        .reduce((sum, chance) => sum + chance, 0);
      expect(fisherExactTest({ count: a, n: m }, { count: b, n }).p).toBeCloseTo(Math.min(1, p), 8);
    }
    expect(() => fisherExactTest({ count: 5, n: 4 }, { count: 0, n: 1 })).toThrow(CalculationError);
  });

  it('Welch has the limits of the difference that jStat gives from the same parts', () => {
    const [a, b] = [sample(9), sample(23, 3)];
    const [va, vb] = [jStat.variance(a, true) / 9, jStat.variance(b, true) / 23];
    const df = (va + vb) ** 2 / (va ** 2 / 8 + vb ** 2 / 22);
    for (const level of [0.9, 0.95, 0.99]) {
      const found = welchTest(a, b, level);
      const reach = jStat.studentt.inv((1 + level) / 2, df) * Math.sqrt(va + vb);
      expect(found.degreesOfFreedom).toBeCloseTo(df, 9);
      expect(found.high).toBeCloseTo(jStat.mean(a) - jStat.mean(b) + reach, 6);
      expect(found.low).toBeCloseTo(jStat.mean(a) - jStat.mean(b) - reach, 6);
    }
  });

  // No library at hand has the test with ties. But the square of its z without continuity is (N - 1) r², r the rank
  // correlation of values and group (Kruskal & Wallis. J Am Stat Assoc 1952;47:583-621, from memory), and jStat has that.
  it.each([
    [12, 9, 0.5],
    [30, 41, 0.25],
    [7, 80, 0],
    [60, 55, 0.3],
  ])(
    'Mann-Whitney with ties has the p that jStat’s rank correlation gives, for %i and %i eyes',
    (m, n, by) => {
      const [a, b] = [quarters(m, by), quarters(n)];
      const found = mannWhitneyTest(a, b);
      expect(found.test).toContain('approximation');
      const group = [...a.map(() => 1), ...b.map(() => 0)];
      const z = Math.sqrt(m + n - 1) * Math.abs(jStat.spearmancoeff([...a, ...b], group));
      const distance = Math.abs(found.u - (m * n) / 2);
      expect(distance).toBeGreaterThan(0.5);
      const corrected = (z * (distance - 0.5)) / distance;
      expect(found.p).toBeCloseTo(2 * jStat.normal.cdf(-corrected, 0, 1), 8);
      const pairs = a.flatMap((x) => b.map((y): number => (x > y ? 1 : x === y ? 0.5 : 0)));
      expect(found.u).toBe(jStat.sum(pairs));
      expect(found.chanceFirstLarger).toBeCloseTo(jStat.mean(pairs), 12);
    },
  );

  it('Mann-Whitney with ties takes the mean and spread of u over every order there can be', () => {
    const values = [-1, -0.5, -0.5, -0.25, 0, 0, 0, 0.25, 0.25, 0.5, 0.5, 1.5];
    const groups = everyFirstGroup(
      values.map((_, i) => i),
      5,
    ).map((own) => ({
      first: own.map((i) => values[i] as number),
      second: values.filter((_, i) => !own.includes(i)),
    }));
    expect(groups).toHaveLength(792);
    const tested = groups.map(({ first, second }) => mannWhitneyTest(first, second));
    const us = tested.map(({ u }) => u);
    expect(jStat.mean(us)).toBeCloseTo(17.5, 9);
    const sd = jStat.stdev(us);
    for (const { u, p } of tested) {
      const z = Math.max(0, Math.abs(u - 17.5) - 0.5) / sd;
      expect(p).toBeCloseTo(Math.min(1, 2 * jStat.normal.cdf(-z, 0, 1)), 8);
      // Of 12 eyes the approximation says little more than that: where it matters it is within 0.03 of every order counted.
      const exact = us.filter((other) => Math.abs(other - 17.5) >= Math.abs(u - 17.5) - 1e-9).length / 792;
      if (exact < 0.1) expect(Math.abs(p - exact), `u ${u}: ${p} for ${exact}`).toBeLessThan(0.03);
    }
  });

  it('Fisher sums every table there can be, as counted one by one', () => {
    const marks = [1, 1, 1, 1, 0, 0, 0, 0, 0, 0];
    const chosen = everyFirstGroup(
      marks.map((_, i) => i),
      4,
    ).map((own) => jStat.sum(own.map((i) => marks[i] as number)));
    const of = (count: number) => chosen.filter((one) => one === count).length;
    for (const count of [0, 1, 2, 3, 4]) {
      const p = chosen.filter((one) => of(one) <= of(count)).length / chosen.length;
      expect(fisherExactTest({ count, n: 4 }, { count: 4 - count, n: 6 }).p).toBeCloseTo(p, 12);
    }
  });
});
