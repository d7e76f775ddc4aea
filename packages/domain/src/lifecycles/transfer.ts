import type { Lifecycle } from './lifecycle.js';

/** How a unit goes from one clinic of the network to another: offered, taken up, sent, and confirmed at the other end. */
export const transferStates = [
  'offered',
  'accepted',
  'sent',
  'received',
  'refused',
  'withdrawn',
  'declined',
  'taken_back',
  'lost',
] as const;
export type TransferState = (typeof transferStates)[number];

export const transferEvents = [
  'accept',
  'decline',
  'withdraw',
  'send',
  'receive',
  'refuse',
  'take-back',
  'lose',
] as const;
export type TransferEvent = (typeof transferEvents)[number];

/** Whose step it is: the clinic that gives the unit, or the one that takes it. */
export const transferSides: Readonly<Record<TransferEvent, 'giver' | 'taker'>> = {
  accept: 'taker',
  decline: 'taker',
  withdraw: 'giver',
  send: 'giver',
  receive: 'taker',
  refuse: 'taker',
  'take-back': 'giver',
  lose: 'giver',
};

const shelf = ['inventory', 'coordinator'] as const;

/**
 * A made-to-order lens goes to another clinic only for an eye there that needs exactly it, so it is taken up for an
 * order that a surgeon has signed. From sending on it is nobody's to use until the other end has read its pack.
 */
export const transferLifecycle: Lifecycle<TransferState, TransferEvent> = {
  name: 'transfer',
  states: transferStates,
  first: ['offered'],
  steps: [
    { event: 'accept', from: ['offered'], to: 'accepted', by: shelf },
    { event: 'decline', from: ['offered', 'accepted'], to: 'declined', by: shelf },
    { event: 'withdraw', from: ['offered', 'accepted'], to: 'withdrawn', by: shelf },
    { event: 'send', from: ['accepted'], to: 'sent', by: shelf },
    { event: 'receive', from: ['sent'], to: 'received', by: shelf },
    { event: 'refuse', from: ['sent'], to: 'refused', by: shelf },
    { event: 'take-back', from: ['refused'], to: 'taken_back', by: shelf },
    { event: 'lose', from: ['sent', 'refused'], to: 'lost', by: shelf },
  ],
};

/** Transfers that still hold their unit: it can't be used, reserved or offered otherwise meanwhile. */
export const openTransfers: readonly TransferState[] = ['offered', 'accepted', 'sent', 'refused'];
