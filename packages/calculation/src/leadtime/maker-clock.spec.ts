import { describe, expect, it } from 'vitest';
import { CalculationError } from '../calculation-error.js';
import { countsFrom, type MakerCalendar } from './maker-clock.js';
import { addWorkingDays } from './working-days.js';

const zurich: MakerCalendar = {
  timeZone: 'Europe/Zurich',
  cutOff: '16:00',
  holidays: new Set(['2026-04-03', '2026-04-06']),
};

describe('the day that an order counts from', () => {
  it('is the maker’s own day until its cut-off, then the next working day', () => {
    expect(countsFrom('2026-11-25T14:59:59Z', zurich)).toBe('2026-11-25');
    expect(countsFrom('2026-11-25T15:00:00Z', zurich)).toBe('2026-11-26');
    // Friday after hours, and the weekend, are Monday.
    for (const at of ['2026-11-27T15:00:00Z', '2026-11-28T08:00:00Z', '2026-11-29T22:00:00Z'])
      expect(countsFrom(at, zurich), at).toBe('2026-11-30');
  });

  it('reads the hour off the wall on both sides of a change to and from summer time', () => {
    // 27 March 2026 is winter time (UTC+1), 30 March is summer time (UTC+2).
    expect(countsFrom('2026-03-27T14:30:00Z', zurich)).toBe('2026-03-27');
    expect(countsFrom('2026-03-30T14:30:00Z', zurich)).toBe('2026-03-31');
    expect(countsFrom('2026-10-23T14:30:00Z', zurich)).toBe('2026-10-26');
    expect(countsFrom('2026-10-26T14:30:00Z', zurich)).toBe('2026-10-26');
  });

  it('passes holidays, and is another day than the clinic’s far away', () => {
    // Maundy Thursday after hours; Friday and Monday are holidays.
    expect(countsFrom('2026-04-02T14:30:00Z', zurich)).toBe('2026-04-07');
    expect(countsFrom('2026-04-06T08:00:00Z', zurich)).toBe('2026-04-07');
    const halifax = { ...zurich, timeZone: 'America/Halifax', holidays: new Set<string>() };
    expect(countsFrom('2026-11-25T02:00:00Z', halifax)).toBe('2026-11-25');
    expect(countsFrom('2026-11-25T02:00:00Z', { ...halifax, cutOff: null })).toBe('2026-11-24');
    const tokyo = { ...halifax, timeZone: 'Asia/Tokyo', cutOff: null };
    expect(countsFrom('2026-11-25T20:00:00Z', tokyo)).toBe('2026-11-26');
  });

  it('makes a late order exactly one working day later, and never an earlier one', () => {
    for (let hour = 0; hour < 24 * 400; hour += 5) {
      const at = new Date(Date.UTC(2026, 0, 1, hour));
      const plain = countsFrom(at, { ...zurich, cutOff: null });
      const counted = countsFrom(at, zurich);
      expect([plain, addWorkingDays(plain, 1, zurich)]).toContain(counted);
    }
  });

  it('names what doesn’t exist', () => {
    for (const wrong of [{ cutOff: '24:00' }, { cutOff: '4pm' }, { timeZone: 'Mars/Olympus' }])
      expect(() => countsFrom('2026-11-25T12:00:00Z', { ...zurich, ...wrong })).toThrow(CalculationError);
    expect(() => countsFrom('soon', zurich)).toThrow(CalculationError);
  });
});
