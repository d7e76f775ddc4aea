import { describe, expect, it } from 'vitest';
import { parseNumber } from './parse-number';

describe('a typed number', () => {
  it.each([
    ['-4,75', -4.75],
    ['−4.75', -4.75],
    ['+0.5', 0.5],
    [' 12. ', 12],
    ['.25', 0.25],
  ])('%s is read', (text, value) => expect(parseNumber(text)).toBe(value));

  it('is nothing when nothing is typed', () => expect(parseNumber('  ')).toBeUndefined());

  it.each(['abc', '1e3', '1,000,0', '--2', '٣', '0x10'])('%s is refused, not guessed', (text) =>
    expect(parseNumber(text)).toBeNaN(),
  );
});
