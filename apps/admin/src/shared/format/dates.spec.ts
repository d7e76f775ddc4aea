import { describe, expect, it } from 'vitest';
import { dateFormatOf, daysBetween, plainDateIn } from './dates';

describe('dates', () => {
  const en = dateFormatOf('en');
  const de = dateFormatOf('de');

  it('says how far away a day is', () => {
    expect(en.dayAndDistance('2026-12-09', '2026-11-25')).toBe('Wed 9 Dec, in 14 days');
    expect(en.distance('2026-11-26', '2026-11-25')).toBe('tomorrow');
    expect(en.distance('2027-03-25', '2026-11-25')).toBe('in 4 months');
    expect(de.distance('2026-11-22', '2026-11-25')).toBe('vor 3 Tagen');
  });

  it('shows the year of a far day', () => {
    expect(en.day('2025-03-03', '2026-11-25')).toBe('3 Mar 2025');
  });

  it('counts days across a change of clocks', () => {
    expect(daysBetween('2026-10-24', '2026-10-26')).toBe(2);
  });

  it('knows what day it is at the clinic', () => {
    expect(plainDateIn(new Date('2026-11-25T23:30:00Z'), 'Europe/Berlin')).toBe('2026-11-26');
    expect(plainDateIn(new Date('2026-11-25T23:30:00Z'), 'America/Bogota')).toBe('2026-11-25');
  });

  it('gives the time of what happened today and the day of what did not', () => {
    const now = new Date('2026-11-25T12:00:00Z');
    expect(en.moment('2026-11-25T08:10:00Z', now, 'UTC')).toBe('today 08:10');
    expect(en.moment('2026-11-19T08:10:00Z', now, 'UTC')).toBe('Thu 19 Nov, 6 days ago');
  });
});
