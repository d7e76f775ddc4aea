import fc from 'fast-check';
import { jStat } from 'jstat';
import { describe, expect, it } from 'vitest';
import { CalculationError } from '../calculation-error.js';
import { bootstrapInterval } from './bootstrap.js';
import { summariseDoubleAngle } from './double-angle-plot.js';
import { acuityIndex, cumulativeAcuity, linesChanged, sharesWithin } from './standard-figures.js';
import { analyseVectors, doubleAngle, fromDoubleAngle } from './vector-analysis.js';
import { wilsonInterval } from './wilson.js';

const steps = (most: number) => fc.integer({ min: 0, max: 1000 * most }).map((n) => n / 1000);
const astigmatism = fc.record({ magnitudeD: steps(12), axisDeg: steps(180) });

function repeatable(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (state + 0.5) / 2 ** 32;
  };
}

describe('vector analysis', () => {
  it('adds up: intended = induced + what is left', () => {
    fc.assert(
      fc.property(astigmatism, astigmatism, astigmatism, (pre, target, post) => {
        const { targetInduced, surgicallyInduced, difference } = analyseVectors(pre, target, post);
        const [t, s, d] = [targetInduced, surgicallyInduced, difference].map(doubleAngle) as [
          { x: number; y: number },
          { x: number; y: number },
          { x: number; y: number },
        ];
        expect(t.x).toBeCloseTo(s.x + d.x, 6);
        expect(t.y).toBeCloseTo(s.y + d.y, 6);
      }),
    );
  });

  it('does not change when every axis is turned, but the axes with it', () => {
    fc.assert(
      fc.property(astigmatism, astigmatism, astigmatism, steps(180), (pre, target, post, turn) => {
        const turned = (one: { magnitudeD: number; axisDeg: number }) => ({
          ...one,
          axisDeg: (one.axisDeg + turn) % 180,
        });
        const there = analyseVectors(pre, target, post);
        fc.pre(there.targetInduced.magnitudeD > 0.01 && there.surgicallyInduced.magnitudeD > 0.01);
        const other = analyseVectors(turned(pre), turned(target), turned(post));
        expect(other.indices?.correction).toBeCloseTo(there.indices?.correction as number, 6);
        expect(other.indices?.flattening).toBeCloseTo(there.indices?.flattening as number, 5);
      }),
    );
  });

  it('says a perfect result plainly and has no indices where nothing was intended', () => {
    const some = { magnitudeD: 3, axisDeg: 20 };
    const none = { magnitudeD: 0, axisDeg: 0 };
    expect(analyseVectors(some, none, none).indices).toMatchObject({
      correction: 1,
      success: 0,
      flattening: 1,
      angleOfErrorDeg: 0,
    });
    expect(analyseVectors(some, some, none).indices).toBeUndefined();
    expect(analyseVectors(some, none, some).indices).toEqual({ correction: 0, success: 1, flattening: 0 });
    expect(() => analyseVectors({ magnitudeD: -1, axisDeg: 0 }, none, none)).toThrow(CalculationError);
    expect(() => analyseVectors({ magnitudeD: 1, axisDeg: 181 }, none, none)).toThrow(CalculationError);
  });

  it('undoes double angles', () => {
    fc.assert(
      fc.property(astigmatism, (one) => {
        fc.pre(one.magnitudeD > 1e-3 && one.axisDeg < 179.99 && one.axisDeg > 0.01);
        const back = fromDoubleAngle(doubleAngle(one));
        expect(back.magnitudeD).toBeCloseTo(one.magnitudeD, 9);
        expect(back.axisDeg).toBeCloseTo(one.axisDeg, 6);
      }),
    );
  });
});

describe('the double-angle summary', () => {
  const next = repeatable(3);
  const gauss = () => Math.sqrt(-2 * Math.log(next())) * Math.cos(2 * Math.PI * next());
  const cloud = (n: number) =>
    Array.from({ length: n }, () => fromDoubleAngle({ x: 0.6 + 0.8 * gauss(), y: -0.3 + 0.3 * gauss() }));

  it('has an ellipse that holds 95 of 100 eyes', () => {
    const eyes = cloud(4000);
    const { centroidX, centroidY, spread } = summariseDoubleAngle(eyes);
    const turn = (spread.turnDeg * Math.PI) / 180;
    const inside = eyes.map(doubleAngle).filter(({ x, y }) => {
      const [dx, dy] = [x - centroidX, y - centroidY];
      const along = (dx * Math.cos(turn) + dy * Math.sin(turn)) / spread.halfLongD;
      const across = (-dx * Math.sin(turn) + dy * Math.cos(turn)) / spread.halfShortD;
      return along ** 2 + across ** 2 <= 1;
    });
    expect(inside.length / eyes.length).toBeGreaterThan(0.94);
    expect(inside.length / eyes.length).toBeLessThan(0.96);
    expect(spread.halfLongD / spread.halfShortD).toBeCloseTo(0.8 / 0.3, 0);
  });

  it('has an ellipse around the centroid that holds the truth 95 times in 100', () => {
    let held = 0;
    for (let trial = 0; trial < 1000; trial += 1) {
      const { centroidX, centroidY, ofCentroid } = summariseDoubleAngle(cloud(12));
      const turn = (ofCentroid.turnDeg * Math.PI) / 180;
      const [dx, dy] = [0.6 - centroidX, -0.3 - centroidY];
      const along = (dx * Math.cos(turn) + dy * Math.sin(turn)) / ofCentroid.halfLongD;
      const across = (-dx * Math.sin(turn) + dy * Math.cos(turn)) / ofCentroid.halfShortD;
      if (along ** 2 + across ** 2 <= 1) held += 1;
    }
    expect(held).toBeGreaterThan(930);
    expect(held).toBeLessThan(970);
  });

  it('cancels opposite astigmatisms and needs three eyes', () => {
    const eyes = [0, 45, 90, 135].map((axisDeg) => ({ magnitudeD: 2, axisDeg }));
    expect(summariseDoubleAngle(eyes).centroid.magnitudeD).toBeCloseTo(0, 9);
    expect(summariseDoubleAngle(eyes).meanMagnitudeD).toBe(2);
    expect(() => summariseDoubleAngle(eyes.slice(0, 2))).toThrow(CalculationError);
  });
});

describe('the bootstrap', () => {
  const next = repeatable(11);
  const sample = Array.from({ length: 60 }, () => -Math.log(next()));

  it('gives the same interval for the same seed and another for another', () => {
    const mean = (items: readonly number[]) => jStat.mean([...items]);
    const one = bootstrapInterval(sample, mean, { seed: 5 });
    expect(bootstrapInterval(sample, mean, { seed: 5 })).toEqual(one);
    expect(bootstrapInterval(sample, mean, { seed: 6 }).low).not.toBe(one.low);
    expect(one.low < one.estimate && one.estimate < one.high).toBe(true);
  });

  it('holds the true mean of a skewed law about 95 times in 100', () => {
    let held = 0;
    for (let trial = 0; trial < 300; trial += 1) {
      const drawn = Array.from({ length: 40 }, () => -Math.log(next()));
      const mean = (items: readonly number[]) => items.reduce((sum, value) => sum + value, 0) / items.length;
      const { low, high } = bootstrapInterval(drawn, mean, { resamples: 600, seed: trial });
      if (low <= 1 && high >= 1) held += 1;
    }
    expect(held / 300).toBeGreaterThan(0.89);
    expect(held / 300).toBeLessThan(0.98);
  });

  it('shrinks to a point where nothing varies, and refuses what is no number', () => {
    const first = (items: readonly number[]) => items[0] as number;
    expect(bootstrapInterval([2, 2, 2], first)).toEqual({ n: 3, estimate: 2, low: 2, high: 2 });
    expect(() => bootstrapInterval([1, 2], () => Number.NaN)).toThrow(CalculationError);
    expect(() => bootstrapInterval([1], first)).toThrow(CalculationError);
  });
});

describe('shares', () => {
  it('lie inside their limits, and swap with their complement', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 500 }), fc.nat(500), (n, some) => {
        const count = some % (n + 1);
        const { low, share, high } = wilsonInterval(count, n);
        expect(low <= share && share <= high && low >= 0 && high <= 1).toBe(true);
        expect(wilsonInterval(n - count, n).low).toBeCloseTo(1 - high, 12);
      }),
    );
    expect(() => wilsonInterval(5, 4)).toThrow(CalculationError);
    expect(() => wilsonInterval(0, 0)).toThrow(CalculationError);
  });
});

describe('standard figures', () => {
  it('give the ratio of mean decimal acuities', () => {
    const eyes = [
      { correctedBefore: Math.log10(2), after: 0 },
      { correctedBefore: Math.log10(2), after: Math.log10(2) },
    ];
    expect(acuityIndex(eyes).estimate).toBeCloseTo(1.5, 9);
  });

  it('count eyes to the printed line', () => {
    const found = cumulativeAcuity([0, Math.log10(2), 0.5], [0, 0.3, 0.5]);
    expect(found.map(({ count }) => count)).toEqual([1, 2, 3]);
  });

  it('count what lies within a limit, the limit included', () => {
    expect(sharesWithin([0.5, -0.5, 0.75, -1, 1.25]).map(({ count }) => count)).toEqual([0, 2, 4, 5]);
    expect(() => sharesWithin([])).toThrow(CalculationError);
    expect(() => sharesWithin([Number.NaN])).toThrow(CalculationError);
  });

  it('count lines lost and gained, and all eyes once', () => {
    const eyes = [0.5, 0.31, 0.2, 0.1, 0].map((afterLogMar) => ({ beforeLogMar: 0.2, afterLogMar }));
    expect(linesChanged(eyes).map(({ lines, count }) => [lines, count])).toEqual([
      [-2, 1],
      [-1, 1],
      [0, 1],
      [1, 1],
      [2, 1],
    ]);
  });
});
