import fc from 'fast-check';
import { jStat } from 'jstat';
import { describe, expect, it } from 'vitest';
import { CalculationError } from '../calculation-error.js';
import { chanceReliability, intervalCalibration } from './calibration.js';
import { forecastArrival } from './forecast-arrival.js';
import type { LeadTimeRecord } from './lead-time-record.js';
import { logRank } from './log-rank.js';
import { arrivalQuantile, awaitedAfter, productLimit, restrictedMeanDays } from './product-limit.js';

const record = fc.record({
  workingDays: fc.integer({ min: 1, max: 60 }),
  outcome: fc.constantFrom('arrived' as const, 'open' as const),
});
const records = fc.array(record, { minLength: 1, maxLength: 50 });
const arrived = (workingDays: number): LeadTimeRecord => ({ workingDays, outcome: 'arrived' });

describe('the product-limit curve', () => {
  it('falls from one to no less than zero within its limits', () => {
    fc.assert(
      fc.property(records, (all) => {
        const curve = productLimit(all);
        let before = 1;
        for (const { awaited, low, high } of curve.steps) {
          expect(awaited).toBeLessThan(before);
          expect(low).toBeLessThanOrEqual(awaited + 1e-12);
          expect(high).toBeGreaterThanOrEqual(awaited - 1e-12);
          expect(low >= 0 && high <= 1).toBe(true);
          before = awaited;
        }
      }),
    );
  });

  it('is the plain share when nothing is open, and its restricted mean the plain mean', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 60 }), { minLength: 1, maxLength: 40 }), (days) => {
        const curve = productLimit(days.map(arrived));
        for (const day of days) {
          expect(awaitedAfter(curve, day)).toBeCloseTo(
            days.filter((other) => other > day).length / days.length,
            12,
          );
        }
        expect(restrictedMeanDays(curve)).toBeCloseTo(jStat.mean(days), 9);
        expect(arrivalQuantile(curve, 1)).toBe(Math.max(...days));
      }),
    );
  });

  it('refuses no orders, a restriction beyond what was seen, and a wrong level', () => {
    expect(() => productLimit([])).toThrow(CalculationError);
    expect(() => restrictedMeanDays(productLimit([arrived(5)]), 6)).toThrow(CalculationError);
    expect(() => productLimit([arrived(5)], 1)).toThrow(CalculationError);
  });
});

describe('the log-rank test', () => {
  it('finds no difference between equal groups, and the same in any order of the groups', () => {
    fc.assert(
      fc.property(records, records, (a, b) => {
        fc.pre([...a, ...b].filter(({ outcome }) => outcome === 'arrived').length > 2);
        fc.pre(
          Math.min(...a.map(({ workingDays }) => workingDays)) < 30 &&
            Math.min(...b.map(({ workingDays }) => workingDays)) < 30,
        );
        let there;
        try {
          there = logRank([a, b]);
        } catch (error) {
          expect(error).toBeInstanceOf(CalculationError);
          return;
        }
        expect(logRank([b, a]).chiSquare).toBeCloseTo(there.chiSquare, 8);
        expect(there.p).toBeGreaterThanOrEqual(0);
        expect(there.p).toBeLessThanOrEqual(1);
      }),
    );
    const same = [5, 6, 7, 9, 12].map(arrived);
    expect(logRank([same, same, same])).toMatchObject({ degreesOfFreedom: 2 });
    expect(logRank([same, same, same]).p).toBeCloseTo(1, 9);
  });

  it('refuses groups that never met', () => {
    expect(() => logRank([[arrived(3)], [{ workingDays: 1, outcome: 'open' }]])).toThrow(CalculationError);
    expect(() => logRank([[arrived(3)]])).toThrow(CalculationError);
  });
});

describe('calibration', () => {
  it('is exact for a forecast that is drawn from itself', () => {
    const forecast = forecastArrival([], { workingDays: 20 }, 0, { acknowledged: true });
    let inside = 0;
    let weight = 0;
    // Each day once, weighted by its own chance: the expected coverage without any random number.
    forecast.daily.forEach((chance, i) => {
      inside += chance * intervalCalibration([{ forecast, arrivedAfterDays: i + 1 }], 0.9).share;
      weight += chance;
    });
    expect(inside / weight).toBeCloseTo(0.9, 3);
  });

  it('groups chances with what happened and scores them', () => {
    const report = chanceReliability([
      { chance: 0.95, happened: true },
      { chance: 0.92, happened: true },
      { chance: 0.91, happened: false },
      { chance: 0.1, happened: false },
      { chance: 1, happened: true },
    ]);
    expect(report.bands.map(({ n, count }) => [n, count])).toEqual([
      [1, 0],
      [4, 3],
    ]);
    expect(report.brierScore).toBeCloseTo((0.05 ** 2 + 0.08 ** 2 + 0.91 ** 2 + 0.1 ** 2 + 0) / 5, 12);
    expect(() => chanceReliability([{ chance: 1.2, happened: true }])).toThrow(CalculationError);
    expect(() => intervalCalibration([])).toThrow(CalculationError);
  });
});
