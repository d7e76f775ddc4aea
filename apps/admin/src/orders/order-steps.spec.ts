import { describe, expect, it } from 'vitest';
import { orderLifecycle, orderStates, roles, stepsFrom } from '@lensferry/domain';
import { mainStep, otherSteps, stepForms, whyNext } from './order-steps';

describe('the steps of an order on screen', () => {
  it('have a form for every step that a person can take', () => {
    for (const state of orderStates)
      for (const role of roles)
        for (const step of stepsFrom(orderLifecycle, state, role))
          expect(stepForms[step.event], step.event).toBeDefined();
  });

  it('have no form for what no person does', () => {
    for (const step of orderLifecycle.steps)
      if (!step.by.some((actor) => roles.includes(actor as never)))
        expect(stepForms[step.event]).toBeUndefined();
  });

  it('put the signature before everything else and keep the ways aside', () => {
    const order = { steps: ['amend', 'sign', 'request-changes', 'cancel'] as const } as never;
    expect(mainStep(order)).toBe('sign');
    expect(otherSteps(order)).toEqual(['amend', 'request-changes', 'cancel']);
  });

  it('show one way to the receiving desk, not three', () => {
    const order = { steps: ['arrive', 'accept', 'quarantine'] } as never;
    expect(mainStep(order)).toBe('arrive');
    expect(otherSteps(order)).toEqual([]);
  });

  it('say that a parcel is on its way only once its maker has shipped it', () => {
    expect(whyNext({ state: 'shipped' }, 'arrive')).toBe('next.order.arrive');
    for (const state of ['sent', 'acknowledged', 'change_requested'] as const)
      expect(whyNext({ state }, 'arrive')).toBe('next.order.arrive_early');
    expect(whyNext({ state: 'submitted' }, 'sign')).toBe('next.order.sign');
  });
});
