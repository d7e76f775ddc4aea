import { describe, expect, it } from 'vitest';
import {
  endsOf,
  lensLifecycle,
  nextState,
  orderLifecycle,
  parcelLifecycle,
  returnLifecycle,
  stepsFrom,
  transferLifecycle,
} from '../index.js';
import type { Lifecycle } from '../index.js';

const all = [
  orderLifecycle,
  lensLifecycle,
  returnLifecycle,
  parcelLifecycle,
  transferLifecycle,
] as unknown as Lifecycle<string, string>[];

describe.each(all)('the lifecycle of a $name', (lifecycle) => {
  it('reaches every state from its first ones', () => {
    const seen = new Set(lifecycle.first);
    for (let before = -1; before !== seen.size;) {
      before = seen.size;
      for (const step of lifecycle.steps) if (step.from.some((state) => seen.has(state))) seen.add(step.to);
    }
    expect([...seen].sort()).toEqual([...lifecycle.states].sort());
  });

  it('has one meaning for each event in each state', () => {
    for (const state of lifecycle.states) {
      const events = lifecycle.steps.filter((step) => step.from.includes(state)).map((step) => step.event);
      expect(new Set(events).size).toBe(events.length);
    }
  });

  it('leads from every state to an end', () => {
    const ends = new Set(endsOf(lifecycle));
    for (let before = -1; before !== ends.size;) {
      before = ends.size;
      for (const step of lifecycle.steps)
        if (ends.has(step.to)) step.from.forEach((state) => ends.add(state));
    }
    expect([...ends].sort()).toEqual([...lifecycle.states].sort());
  });
});

describe('the ends', () => {
  it('are these and no others', () => {
    expect(endsOf(orderLifecycle)).toEqual(['accepted', 'rejected', 'declined', 'cancelled']);
    expect(endsOf(lensLifecycle)).toEqual(['credited', 'discarded']);
    expect(endsOf(returnLifecycle)).toEqual(['credited', 'written_off']);
  });
});

describe('taking a step', () => {
  it('lets only a surgeon sign', () => {
    expect(nextState(orderLifecycle, 'submitted', 'sign', 'surgeon')).toBe('approved');
    for (const actor of ['coordinator', 'inventory', 'administrator', 'auditor', 'maker', 'worker'] as const)
      expect(() => nextState(orderLifecycle, 'submitted', 'sign', actor)).toThrow('is for surgeon');
  });

  it('says what is possible instead when the state has moved on', () => {
    expect(() => nextState(orderLifecycle, 'approved', 'sign', 'surgeon')).toThrow('This order is approved');
  });

  it('gives an auditor nothing to do', () => {
    for (const lifecycle of all)
      for (const state of lifecycle.states) expect(stepsFrom(lifecycle, state, 'auditor')).toEqual([]);
  });
});
