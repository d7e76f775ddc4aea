import { VisitSchedule } from '@lensferry/contracts';
import { describe, expect, it } from 'vitest';
import { readVisitDays } from './read-visit-days';

const takes = (text: string): boolean =>
  VisitSchedule.safeParse({ was: [1], visitDays: readVisitDays(text), why: 'agreed' }).success;

describe('days of visits as typed', () => {
  it('are read with commas, semicolons or spaces', () => {
    for (const text of ['1, 7, 30', '1;7;30', ' 1 7  30 ']) expect(readVisitDays(text)).toEqual([1, 7, 30]);
  });

  it('are refused by the contract when they do not rise, are words, halves or nothing', () => {
    expect(takes('1, 7, 30')).toBe(true);
    for (const text of ['7, 1', '7, 7', '1, soon', '1.5, 7', '-1, 7', '', '1, 9999'])
      expect(takes(text), text).toBe(false);
  });
});
