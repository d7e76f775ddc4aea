import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CalculationError } from '../calculation-error.js';
import { learnArrivalLaw, SMOOTHING_ORDERS } from './arrival-law.js';
import { fitCentreLaw } from './centre-law.js';
import { forecastArrival, type ArrivalEvidence, type ArrivalForecast } from './forecast-arrival.js';
import { intervalCalibration } from './calibration.js';
import { riskTable, type LeadTimeRecord } from './lead-time-record.js';
import { arrivalQuantile, arrivalShare, awaitedAfter, productLimit } from './product-limit.js';

const quote = { workingDays: 30 };
const arrived = (workingDays: number): LeadTimeRecord => ({ workingDays, outcome: 'arrived' });

const anyRecord: fc.Arbitrary<LeadTimeRecord> = fc.record({
  workingDays: fc.integer({ min: 0, max: 120 }),
  outcome: fc.constantFrom('arrived' as const, 'open' as const, 'cancelled' as const),
});
const anyHistory = fc.array(anyRecord, { maxLength: 60 });
const anyEvidence: fc.Arbitrary<ArrivalEvidence> = fc.oneof(
  fc.constant({}),
  fc.record({ acknowledged: fc.boolean() }),
  fc.record({ promisedInDays: fc.integer({ min: -40, max: 80 }) }),
  fc.record({
    shippedDaysAgo: fc.integer({ min: 0, max: 30 }),
    transitDays: fc.integer({ min: 0, max: 10 }),
  }),
);

function repeatable(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

describe('a forecast, whatever the history and the evidence', () => {
  it('is a law: chances add up to one, grow with the days, and agree with the quantiles', () => {
    fc.assert(
      fc.property(
        anyHistory,
        fc.integer({ min: 1, max: 100 }),
        fc.integer({ min: 0, max: 150 }),
        anyEvidence,
        (history, workingDays, since, evidence) => {
          const f = forecastArrival(history, { workingDays }, since, evidence);
          const total = f.daily.reduce((sum, chance) => sum + chance, 0) + f.chanceCancelled + f.chanceLater;
          expect(total).toBeCloseTo(1, 9);
          expect(f.daily.every((chance) => chance >= 0 && chance <= 1)).toBe(true);
          let before = 0;
          for (let days = 0; days <= f.daily.length; days += 1) {
            expect(f.chanceBy(days)).toBeGreaterThanOrEqual(before);
            before = f.chanceBy(days);
          }
          expect(1 <= f.p10 && f.p10 <= f.p50 && f.p50 <= f.p90).toBe(true);
          const coming = 1 - f.chanceCancelled;
          expect(f.chanceBy(f.p50)).toBeGreaterThanOrEqual(0.5 * coming - 1e-9);
          expect(f.chanceBy(f.p50 - 1)).toBeLessThan(0.5 * coming + 1e-9);
          expect(f.chanceBy(-3)).toBe(0);
        },
      ),
      { numRuns: 300 },
    );
  });

  it('does not depend on the order of the records', () => {
    fc.assert(
      fc.property(anyHistory, fc.integer({ min: 0, max: 100 }), (history, since) => {
        const one = forecastArrival(history, quote, since);
        const other = forecastArrival([...history].reverse(), quote, since);
        one.daily.forEach((chance, i) => expect(other.daily[i]).toBeCloseTo(chance, 10));
      }),
      { numRuns: 50 },
    );
  });

  it('is the same whether like orders are counted together or listed one by one', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(anyRecord, fc.integer({ min: 1, max: 5 })), { maxLength: 20 }),
        fc.integer({ min: 0, max: 60 }),
        anyEvidence,
        (counted, since, evidence) => {
          const together = counted.map(([record, orders]) => ({ ...record, orders }));
          const listed = counted.flatMap(([record, orders]) =>
            new Array<LeadTimeRecord>(orders).fill(record),
          );
          const [one, other] = [together, listed].map((history) =>
            forecastArrival(history, quote, since, evidence),
          );
          expect(one?.ordersBehind).toBe(other?.ordersBehind);
          one?.daily.forEach((chance, i) => expect(chance).toBeCloseTo(other?.daily[i] ?? -1, 10));
        },
      ),
      { numRuns: 100 },
    );
  });

  it('moves the middle later when an arrival in the record is made later', () => {
    const median = (days: number) =>
      forecastArrival(
        Array.from({ length: 10 }, () => arrived(days)),
        quote,
        0,
      ).p50;
    const medians = [20, 25, 30, 35, 40, 45].map(median);
    expect([...medians].sort((a, b) => a - b)).toEqual(medians);
    expect(medians[0]).toBeLessThan(medians[5] as number);
  });
});

describe('a forecast from the quote alone', () => {
  it('is centred on the quote', () => {
    const f = forecastArrival([], quote, 0);
    expect(f.p50).toBe(30);
    expect(f.basis).toBe('quote-and-history');
    expect(f.p10).toBeGreaterThan(15);
    expect(f.p90).toBeLessThan(60);
  });

  it('is already led by ten orders that took half as long again', () => {
    const f = forecastArrival(
      Array.from({ length: 10 }, (_, i) => arrived(43 + (i % 5))),
      quote,
      0,
    );
    expect(f.p50).toBeGreaterThanOrEqual(42);
    expect(f.p50).toBeLessThanOrEqual(46);
  });

  it('counts open orders: many that are overdue move its late end later than ignoring them', () => {
    const history = Array.from({ length: 6 }, (_, i) => arrived(26 + i));
    const overdue = Array.from({ length: 6 }, (): LeadTimeRecord => ({ workingDays: 45, outcome: 'open' }));
    const counted = forecastArrival([...history, ...overdue], quote, 0);
    const ignored = forecastArrival(history, quote, 0);
    expect(counted.p90).toBeGreaterThan(ignored.p90 + 10);
    expect(counted.p50).toBeGreaterThan(ignored.p50);
  });

  it('given that an order is long overdue, looks ahead and never back', () => {
    const f = forecastArrival([], quote, 60);
    expect(f.p10).toBeGreaterThanOrEqual(1);
    expect(f.p50).toBeGreaterThan(3);
  });
});

describe('evidence', () => {
  it('of an acknowledgement takes away the risk of being declined', () => {
    const history: LeadTimeRecord[] = [
      ...Array.from({ length: 20 }, () => arrived(30)),
      ...Array.from({ length: 5 }, (): LeadTimeRecord => ({
        workingDays: 2,
        outcome: 'cancelled',
        acknowledged: false,
      })),
    ];
    const before = forecastArrival(history, quote, 0);
    const after = forecastArrival(history, quote, 0, { acknowledged: true });
    expect(before.chanceCancelled).toBeGreaterThan(0.12);
    expect(after.chanceCancelled).toBeLessThan(0.05);
  });

  it('of a promise centres the forecast on it, narrower than the quote does', () => {
    const f = forecastArrival([], quote, 5, { promisedInDays: 20 });
    expect(f.basis).toBe('promise');
    expect(Math.abs(f.p50 - 20)).toBeLessThanOrEqual(1);
    const plain = forecastArrival([], quote, 5);
    expect(f.p90 - f.p10).toBeLessThan(plain.p90 - plain.p10);
  });

  it('of promises that this maker breaks by a week is remembered', () => {
    const slipping = Array.from({ length: 12 }, (_, i): LeadTimeRecord => ({
      ...arrived(35 + (i % 3)),
      promisedWorkingDays: 29,
    }));
    const f = forecastArrival(slipping, quote, 9, { promisedInDays: 20 });
    expect(f.p50).toBeGreaterThanOrEqual(25);
    expect(f.p50).toBeLessThanOrEqual(29);
  });

  it('of a broken promise looks ahead', () => {
    const f = forecastArrival([], quote, 40, { promisedInDays: -8 });
    expect(f.p50).toBeGreaterThanOrEqual(1);
    expect(f.chanceBy(1)).toBeLessThan(0.7);
  });

  it('of shipping counts days in transit', () => {
    const f = forecastArrival([], quote, 28, { shippedDaysAgo: 0, transitDays: 3 });
    expect(f.basis).toBe('shipping');
    expect(f.p50).toBe(3);
    expect(f.p90).toBeLessThanOrEqual(7);
  });
});

describe('with many orders', () => {
  const next = repeatable(7);
  const many: LeadTimeRecord[] = Array.from({ length: 5000 }, () => {
    const took = 15 + Math.floor(20 * next() + 15 * next());
    const seenUntil = Math.floor(80 * next()) + 1;
    return seenUntil < took ? { workingDays: seenUntil, outcome: 'open' } : arrived(took);
  });

  it('is the product-limit estimate', () => {
    const f = forecastArrival(many, quote, 0);
    const curve = productLimit(many);
    for (let day = 1; day < 60; day += 1) {
      expect(Math.abs(1 - f.chanceBy(day) - awaitedAfter(curve, day))).toBeLessThan(0.01);
    }
    expect(Math.abs(f.p50 - (arrivalQuantile(curve, 0.5) as number))).toBeLessThanOrEqual(1);
  });

  it('gets there the closer the more orders there are', () => {
    const distance = (n: number) => {
      const some = many.slice(0, n);
      const f = forecastArrival(some, quote, 0);
      const curve = productLimit(some);
      let worst = 0;
      for (let day = 1; day < 60; day += 1)
        worst = Math.max(worst, Math.abs(1 - f.chanceBy(day) - awaitedAfter(curve, day)));
      return worst;
    };
    expect(distance(1000)).toBeLessThan(0.02);
    expect(distance(1000)).toBeLessThan(distance(10) / 5);
  });

  it('has hazards exactly between centre and data: (c h + d) / (c + n)', () => {
    const prior = { medianDays: 10, steepness: 5, orders: 2, dailyCancellation: 0 };
    const records = [arrived(8), arrived(8), arrived(9)];
    const awaited = fitCentreLaw(riskTable(records), prior);
    const c = SMOOTHING_ORDERS * awaited(7.5);
    const h = 1 - awaited(8.5) / awaited(7.5);
    expect(learnArrivalLaw(records, prior)(8).arrival).toBeCloseTo((c * h + 2) / (c + 3), 12);
  });

  it('treats cancellation as competing: arrived, cancelled and awaited add up to one', () => {
    fc.assert(
      fc.property(fc.array(anyRecord, { minLength: 1, maxLength: 40 }), (history) => {
        for (const row of arrivalShare(history))
          expect(row.arrived + row.cancelled + row.awaited).toBeCloseTo(1, 12);
      }),
    );
  });
});

describe('in a world with known lead times', () => {
  it('its 90 % intervals cover 87 to 93 % after ten orders and after a hundred', () => {
    const next = repeatable(2026);
    const draw = () =>
      Math.max(1, Math.round(30 * Math.exp(0.25 * (next() + next() + next() + next() - 2) * 1.732)));
    for (const orders of [10, 100]) {
      const pairs = Array.from({ length: orders === 10 ? 1500 : 500 }, () => {
        const forecast: ArrivalForecast = forecastArrival(
          Array.from({ length: orders }, () => arrived(draw())),
          quote,
          0,
        );
        return { forecast, arrivedAfterDays: draw() };
      });
      const { share } = intervalCalibration(pairs, 0.9);
      expect(share).toBeGreaterThan(0.87);
      expect(share).toBeLessThan(0.93);
    }
  });
});

describe('for orders past their promise, of a maker of whose orders one in six is delayed', () => {
  it('the 90 % intervals still cover 87 to 96 %, where a light tail covered 60 %', () => {
    const next = repeatable(77);
    const order = () => {
      const usual = 12 + ((next() + next()) / 2) * 18;
      return Math.round(usual + (next() < 1 / 6 ? usual * (0.2 + 0.4 * next()) : 0));
    };
    const promised = 25;
    const pairs: { forecast: ArrivalForecast; arrivedAfterDays: number }[] = [];
    while (pairs.length < 600) {
      const age = promised + Math.floor(4 * next());
      const took = order();
      if (took <= age) continue;
      const history = Array.from({ length: 20 }, () => ({
        ...arrived(order()),
        promisedWorkingDays: promised,
      }));
      const forecast = forecastArrival(history, quote, age, { promisedInDays: promised - age });
      pairs.push({ forecast, arrivedAfterDays: took - age });
    }
    const { share } = intervalCalibration(pairs, 0.9);
    expect(share).toBeGreaterThan(0.87);
    expect(share).toBeLessThan(0.96);
  });
});

describe('impossible input', () => {
  it.each([
    ['history[0].workingDays', () => forecastArrival([arrived(2.5)], quote, 0)],
    ['history[0].workingDays', () => forecastArrival([arrived(-1)], quote, 0)],
    ['quote.workingDays', () => forecastArrival([], { workingDays: Number.NaN }, 0)],
    ['quote.workingDays', () => forecastArrival([], { workingDays: 0 }, 0)],
    ['quote.priorOrders', () => forecastArrival([], { workingDays: 9, priorOrders: 0 }, 0)],
    ['openSinceDays', () => forecastArrival([], quote, -1)],
    ['evidence.promisedInDays', () => forecastArrival([], quote, 0, { promisedInDays: 0.5 })],
    ['evidence.shippedDaysAgo', () => forecastArrival([], quote, 0, { shippedDaysAgo: -1 })],
    ['days', () => forecastArrival([], quote, 0).chanceBy(Number.NaN)],
    ['p', () => forecastArrival([], quote, 0).quantile(1)],
    [
      'history.shippedAfterWorkingDays',
      () => forecastArrival([{ ...arrived(5), shippedAfterWorkingDays: 6 }], quote, 6, { shippedDaysAgo: 0 }),
    ],
  ])('names %s', (field, act) => {
    try {
      act();
      expect.unreachable();
    } catch (error) {
      expect(error).toBeInstanceOf(CalculationError);
      expect((error as CalculationError).field).toBe(field);
    }
  });
});
