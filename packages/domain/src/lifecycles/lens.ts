import type { Lifecycle } from './lifecycle.js';

/** The states of one lens unit, from the day its parcel was opened. */
export const lensStates = [
  'in_stock',
  'quarantined',
  'reserved',
  'implanted',
  'explanted',
  'returning',
  'returned',
  'credited',
  'expired',
  'discarded',
  'handed_over',
] as const;
export type LensState = (typeof lensStates)[number];

export const lensEvents = [
  'release',
  'reserve',
  'unreserve',
  'implant',
  'explant',
  'send-back',
  'arrive-at-maker',
  'credit',
  'expire',
  'discard',
  'hand-over',
  'take-back',
  'lose',
] as const;
export type LensEvent = (typeof lensEvents)[number];

const theatre = ['surgeon', 'coordinator'] as const;
const shelf = ['inventory', 'coordinator'] as const;

/**
 * Whose a unit is. A clinic's own was paid for when it was taken in; one on consignment stands here and is paid for when
 * it goes into an eye; a maker's was lent or sent by mistake. Only a clinic's own brings a credit when it goes back.
 */
export const lensOwners = ['clinic', 'consignment', 'maker'] as const;
export type LensOwner = (typeof lensOwners)[number];

/** A lens unit's lifecycle. It is born in stock or in quarantine, at the receiving desk. */
export const lensLifecycle: Lifecycle<LensState, LensEvent> = {
  name: 'lens',
  states: lensStates,
  first: ['in_stock', 'quarantined'],
  steps: [
    { event: 'release', from: ['quarantined'], to: 'in_stock', by: ['surgeon'] },
    { event: 'reserve', from: ['in_stock'], to: 'reserved', by: [...shelf, 'surgeon'] },
    // A surgeon's too: of two lenses at hand one goes into the eye and frees the other.
    { event: 'unreserve', from: ['reserved'], to: 'in_stock', by: [...shelf, 'surgeon'] },
    { event: 'implant', from: ['reserved'], to: 'implanted', by: theatre },
    { event: 'explant', from: ['implanted'], to: 'explanted', by: theatre },
    { event: 'send-back', from: ['in_stock', 'quarantined', 'explanted'], to: 'returning', by: shelf },
    { event: 'arrive-at-maker', from: ['returning'], to: 'returned', by: ['maker', ...shelf] },
    { event: 'credit', from: ['returned'], to: 'credited', by: ['maker', ...shelf] },
    { event: 'expire', from: ['in_stock', 'reserved'], to: 'expired', by: ['inventory'] },
    {
      event: 'discard',
      from: ['in_stock', 'quarantined', 'explanted', 'expired'],
      to: 'discarded',
      by: ['inventory'],
    },
    // To another clinic of the network, where it is on record anew once its pack has been read there.
    { event: 'hand-over', from: ['in_stock'], to: 'handed_over', by: shelf },
    { event: 'take-back', from: ['handed_over'], to: 'in_stock', by: shelf },
    // Never arrived, never came back, or not found when the shelf was counted.
    {
      event: 'lose',
      from: ['handed_over', 'in_stock', 'quarantined', 'explanted', 'expired'],
      to: 'discarded',
      by: shelf,
    },
  ],
};
