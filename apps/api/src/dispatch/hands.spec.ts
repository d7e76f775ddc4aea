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
    expect(hands.free('a')).toBe(0);
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

  it('lets a job that was put back wait without a look, until its maker has a hand free', () => {
    const hands = new Hands();
    takeAll(hands, 'a');
    hands.putBack('event', 'a');
    expect([hands.stillWaits('event'), hands.stillWaits('another')]).toEqual([true, false]);
    hands.giveBack('a');
    expect(hands.stillWaits('event')).toBe(false);
    takeAll(hands, 'a');
    expect(hands.stillWaits('event')).toBe(false);
  });

  it('forgets who waits once they are many, so that what other processes took does not pile up', () => {
    const hands = new Hands();
    takeAll(hands, 'a');
    hands.putBack('first', 'a');
    for (let n = 1; n < 10_000; n += 1) hands.putBack(`event ${n}`, 'a');
    expect(hands.stillWaits('first')).toBe(true);
    hands.putBack('one too many', 'a');
    expect([hands.stillWaits('first'), hands.stillWaits('one too many')]).toEqual([false, true]);
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
