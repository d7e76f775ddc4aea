import type { Lifecycle } from './lifecycle.js';

/** What becomes of a parcel that nobody expected: kept apart until somebody says where it belongs. */
export const parcelStates = ['kept', 'matched', 'sent_back', 'handed_over'] as const;
export type ParcelState = (typeof parcelStates)[number];

export const parcelEvents = ['match', 'send-back', 'hand-over'] as const;
export type ParcelEvent = (typeof parcelEvents)[number];

const shelf = ['inventory', 'coordinator'] as const;

/** Matched with an order of the clinic, sent back to whoever sent it, or handed over to the clinic that it belongs to. */
export const parcelLifecycle: Lifecycle<ParcelState, ParcelEvent> = {
  name: 'parcel',
  states: parcelStates,
  first: ['kept'],
  steps: [
    { event: 'match', from: ['kept'], to: 'matched', by: shelf },
    { event: 'send-back', from: ['kept'], to: 'sent_back', by: shelf },
    { event: 'hand-over', from: ['kept'], to: 'handed_over', by: shelf },
  ],
};
