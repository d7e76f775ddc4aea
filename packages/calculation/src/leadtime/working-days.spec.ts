import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CalculationError } from '../calculation-error.js';
import { forecastArrival } from './forecast-arrival.js';
import { arrivalDate, chanceForTheatre, earliestTheatreDate, orderByDate } from './theatre-dates.js';
import { addWorkingDays, isWorkingDay, nextWorkingDay, workingDaysBetween } from './working-days.js';

const holidays = new Set(['2026-12-25', '2026-12-28', '2027-01-01']);
const anyDate = fc
  .integer({ min: Date.UTC(2020, 0, 1) / 86_400_000, max: Date.UTC(2035, 0, 1) / 86_400_000 })
  .map((day) => new Date(day * 86_400_000).toISOString().slice(0, 10));

describe('working days', () => {
  it('skip weekends and holidays in both directions', () => {
    expect(addWorkingDays('2026-12-24', 1, holidays)).toBe('2026-12-29');
    expect(addWorkingDays('2026-12-29', -1, holidays)).toBe('2026-12-24');
    expect(workingDaysBetween('2026-12-24', '2027-01-04', holidays)).toBe(4);
  });

  it('undo one another from any day', () => {
    fc.assert(
      fc.property(anyDate, fc.integer({ min: -300, max: 300 }), (date, n) => {
        const there = addWorkingDays(date, n, holidays);
        expect(workingDaysBetween(date, there, holidays)).toBe(n + 0);
        if (n !== 0) expect(isWorkingDay(there, holidays)).toBe(true);
        if (isWorkingDay(date, holidays)) expect(addWorkingDays(there, -n, holidays)).toBe(date);
      }),
    );
  });

  it('know other weekends', () => {
    const friday = { holidays: new Set<string>(), restDays: [5, 6] };
    expect(isWorkingDay('2026-11-27', friday)).toBe(false);
    expect(isWorkingDay('2026-11-29', friday)).toBe(true);
  });

  it.each(['2026-02-30', '26-11-2026', '2026-11-25T00:00:00Z', ''])('refuse the date %s', (date) => {
    expect(() => addWorkingDays(date, 1, holidays)).toThrow(CalculationError);
  });

  it('refuse halves, NaN and a week without work', () => {
    expect(() => addWorkingDays('2026-11-25', 0.5, holidays)).toThrow(CalculationError);
    expect(() => addWorkingDays('2026-11-25', Number.NaN, holidays)).toThrow(CalculationError);
    expect(() => addWorkingDays('2026-11-25', 1, { holidays, restDays: [1, 2, 3, 4, 5, 6, 7] })).toThrow(
      CalculationError,
    );
  });
});

describe('theatre dates', () => {
  const fresh = forecastArrival([], { workingDays: 20 }, 0);
  const plan = {
    makerCalendar: { holidays },
    clinicCalendar: { holidays: new Set(['2027-01-06']) },
    confidence: 0.95,
    handlingDays: 2,
  };

  it('an order sent on the order-by date is taken in early enough, one sent a working day later is not', () => {
    fc.assert(
      fc.property(anyDate, (theatre) => {
        const sendOn = orderByDate(theatre, fresh, plan);
        const neededBy = addWorkingDays(theatre, -plan.handlingDays, plan.clinicCalendar);
        const days = fresh.quantile(0.95);
        expect(arrivalDate(sendOn, days, plan) <= neededBy).toBe(true);
        expect(arrivalDate(addWorkingDays(sendOn, 1, plan.makerCalendar), days, plan) > neededBy).toBe(true);
      }),
      { numRuns: 200 },
    );
  });

  it('the earliest theatre date has the chance that was asked for, and the order-by date gives today back', () => {
    const today = '2026-11-25';
    const theatre = earliestTheatreDate(today, fresh, plan);
    expect(chanceForTheatre(today, theatre, fresh, plan)).toBeGreaterThanOrEqual(
      0.95 * (1 - fresh.chanceCancelled) - 1e-9,
    );
    expect(orderByDate(theatre, fresh, plan) >= today).toBe(true);
    expect(isWorkingDay(theatre, plan.clinicCalendar)).toBe(true);
  });

  it('has no chance for a theatre date that has passed, and more for a later one', () => {
    expect(chanceForTheatre('2026-11-25', '2026-11-20', fresh, plan)).toBe(0);
    const soon = chanceForTheatre('2026-11-25', '2026-12-18', fresh, plan);
    const later = chanceForTheatre('2026-11-25', '2027-01-29', fresh, plan);
    expect(later).toBeGreaterThan(soon);
  });

  it('moves an arrival on the clinic holiday to its next working day', () => {
    expect(nextWorkingDay('2027-01-06', plan.clinicCalendar)).toBe('2027-01-07');
    expect(arrivalDate('2027-01-05', 1, plan)).toBe('2027-01-07');
  });
});
