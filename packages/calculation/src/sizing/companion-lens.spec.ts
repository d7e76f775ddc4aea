import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CalculationError, companionLengthMm, judgeCompanion, type CompanionTerms } from '../index.js';

const terms: CompanionTerms = {
  price: 1500,
  companionPrice: 1400,
  restockingShare: 0.2,
  explantedCreditShare: 0.5,
  secondOperation: 1200,
  waiting: 600,
  seenInTheatreShare: 0.25,
  fromChance: 0.1,
};
const money = fc.double({ min: 0, max: 1e5, noNaN: true });
const share = fc.double({ min: 0, max: 1, noNaN: true });
const anyTerms: fc.Arbitrary<CompanionTerms> = fc.record({
  price: money,
  companionPrice: money,
  restockingShare: share,
  explantedCreditShare: share,
  secondOperation: money,
  waiting: money,
  seenInTheatreShare: share,
  fromChance: share,
});

describe('a companion lens one size smaller', () => {
  it('costs what is worked out by hand', () => {
    const { alone, together, saving, evenChance, proposed } = judgeCompanion(0.4, terms);
    // Alone: 1500; too large: 1500 + 1400 + 1200 + 600 − 750 = 3950.
    expect(alone).toEqual({ ifFits: 1500, ifTooLarge: 3950, expected: 0.6 * 1500 + 0.4 * 3950 });
    // Together: 1500 + 280; too large: 1500 + 1400 + 900 − 750 = 3050.
    expect(together).toEqual({ ifFits: 1780, ifTooLarge: 3050, expected: 0.6 * 1780 + 0.4 * 3050 });
    expect(saving).toBeCloseTo(0.4 * 900 - 0.6 * 280, 9);
    expect(evenChance).toBeCloseTo(280 / 1180, 12);
    expect(proposed).toBe(true);
  });

  it('is never proposed when the lens can’t turn out too large', () => {
    fc.assert(
      fc.property(anyTerms, (any) => {
        const judged = judgeCompanion(0, any);
        expect(judged.proposed).toBe(false);
        expect(judged.saving).toBeLessThanOrEqual(0);
      }),
    );
  });

  it('never gets cheaper with a dearer second operation or a longer wait, and the saving never shrinks', () => {
    fc.assert(
      fc.property(
        share,
        anyTerms,
        money,
        fc.constantFrom('secondOperation', 'waiting'),
        (chance, any, more, field) => {
          const dearer = { ...any, [field]: any[field as 'waiting'] + more };
          const [before, after] = [judgeCompanion(chance, any), judgeCompanion(chance, dearer)];
          const tiny = 1e-6;
          expect(after.alone.expected).toBeGreaterThanOrEqual(before.alone.expected - tiny);
          expect(after.together.expected).toBeGreaterThanOrEqual(before.together.expected - tiny);
          expect(after.saving).toBeGreaterThanOrEqual(before.saving - tiny);
          if (before.proposed) expect(after.proposed).toBe(true);
        },
      ),
    );
  });

  it('saves more the likelier the lens is too large, and its saving is the difference of both ways', () => {
    fc.assert(
      fc.property(share, share, anyTerms, (one, other, any) => {
        const [less, more] = [Math.min(one, other), Math.max(one, other)].map((chance) =>
          judgeCompanion(chance, any),
        ) as [ReturnType<typeof judgeCompanion>, ReturnType<typeof judgeCompanion>];
        expect(more.saving).toBeGreaterThanOrEqual(less.saving - 1e-6);
        expect(more.saving).toBeCloseTo(more.alone.expected - more.together.expected, 4);
        if (more.evenChance !== null && more.chance > more.evenChance + 1e-9)
          expect(more.saving).toBeGreaterThanOrEqual(-1e-6);
      }),
    );
  });

  it('scales with the money: another currency changes no decision', () => {
    fc.assert(
      fc.property(share, anyTerms, fc.double({ min: 0.1, max: 5, noNaN: true }), (chance, any, rate) => {
        const other = {
          ...any,
          price: any.price * rate,
          companionPrice: any.companionPrice * rate,
          secondOperation: any.secondOperation * rate,
          waiting: any.waiting * rate,
        };
        const [a, b] = [judgeCompanion(chance, any), judgeCompanion(chance, other)];
        if (Math.abs(a.saving) > 1e-6) expect(b.proposed).toBe(a.proposed);
      }),
    );
  });

  it('refuses shares and amounts that can’t be, by name', () => {
    expect(() => judgeCompanion(1.2, terms)).toThrow(CalculationError);
    expect(() => judgeCompanion(0.2, { ...terms, restockingShare: -0.1 })).toThrow(/restockingShare/);
    expect(() => judgeCompanion(0.2, { ...terms, waiting: Number.NaN })).toThrow(/waiting/);
  });

  it('is the next length that can be made, and none below the shortest', () => {
    expect(companionLengthMm([12, 12.25, 12.5], 12.5)).toBe(12.25);
    expect(companionLengthMm([12.5, 12, 13], 12.5)).toBe(12);
    expect(companionLengthMm([12, 12.5], 12)).toBeNull();
    expect(() => companionLengthMm([12, 12.5], 12.25)).toThrow(CalculationError);
  });
});
