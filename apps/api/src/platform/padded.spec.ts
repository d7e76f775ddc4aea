import { expect, it } from 'vitest';
import { padded } from './padded.js';

it('repeats the first identifier up to the next power of two, and adds no other', () => {
  expect(padded([])).toEqual([]);
  expect(padded(['a'])).toEqual(['a']);
  expect(padded(['a', 'b', 'c'])).toEqual(['a', 'b', 'c', 'a']);
  const lengths = Array.from(
    { length: 50 },
    (_, n) => padded(Array.from({ length: n + 1 }, (__, id) => id)).length,
  );
  expect([...new Set(lengths)]).toEqual([1, 2, 4, 8, 16, 32, 64]);
});
