import type { Lifecycle } from './lifecycle.js';

/** The states of sending a lens back to its maker. */
export const returnStates = [
  'requested',
  'authorised',
  'handed_over',
  'received',
  'credited',
  'written_off',
] as const;
export type ReturnState = (typeof returnStates)[number];

export const returnEvents = ['authorise', 'hand-over', 'receive', 'credit', 'write-off'] as const;
export type ReturnEvent = (typeof returnEvents)[number];

const shelf = ['inventory', 'coordinator'] as const;

/** A return ends with its credit, or with somebody writing it off and saying why. */
export const returnLifecycle: Lifecycle<ReturnState, ReturnEvent> = {
  name: 'return',
  states: returnStates,
  first: ['requested'],
  steps: [
    { event: 'authorise', from: ['requested'], to: 'authorised', by: ['maker', ...shelf] },
    { event: 'hand-over', from: ['authorised'], to: 'handed_over', by: shelf },
    { event: 'receive', from: ['handed_over'], to: 'received', by: ['maker', ...shelf] },
    { event: 'credit', from: ['received'], to: 'credited', by: ['maker', ...shelf] },
    {
      event: 'write-off',
      from: ['requested', 'authorised', 'handed_over', 'received'],
      to: 'written_off',
      by: ['inventory', 'administrator'],
    },
  ],
};
