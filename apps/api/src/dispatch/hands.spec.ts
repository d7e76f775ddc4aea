import { describe, expect, it } from 'vitest';
import { Hands, jobsAtOnce } from './hands.js';

const takeAll = (hands: Hands, makerId: string): number => {
  const free = hands.free(makerId);
  hands.take(makerId, free);
  return free;
};

describe('Hands', () => {
  it('gives three to a maker that has not answered yet, and three again to one that has become slow', () => {
    const hands = new Hands();
    expect(takeAll(hands, 'a')).toBe(3);
    expect(hands.isFull('a')).toBe(true);
    hands.giveBack('a', 3);
    hands.answered('a', 40);
    expect(hands.free('a')).toBe(12);
    hands.answered('a', 4000);
    expect(hands.free('a')).toBe(3);
    hands.answered('a', 40);
    hands.answered('a', null);
    expect(hands.free('a')).toBe(3);
  });

  it('are full when eight makers do not answer, not before, however many of them were quick', () => {
    const hands = new Hands();
    const quick = ['a', 'b', 'c'];
    for (const makerId of quick) hands.answered(makerId, 10);
    const taken = quick.map((makerId) => takeAll(hands, makerId));
    expect(taken).toEqual([12, 6, 3]);
    let out = taken.reduce((sum, count) => sum + count, 0);
    for (let others = 0; others < 5; others += 1) {
      expect(out).toBeLessThan(jobsAtOnce);
      out += takeAll(hands, `never answered ${others}`);
    }
    expect(out).toBe(jobsAtOnce);
  });

  it('counts what is given back', () => {
    const hands = new Hands();
    takeAll(hands, 'a');
    hands.giveBack('a');
    expect(hands.free('a')).toBe(1);
    hands.giveBack('a', 2);
    expect(hands.free('a')).toBe(3);
  });
});
