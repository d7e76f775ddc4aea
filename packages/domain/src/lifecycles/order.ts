import type { Lifecycle } from './lifecycle.js';

/** The states of an order, in the order in which an untroubled one meets them, troubles last. */
export const orderStates = [
  'draft',
  'submitted',
  'changes_requested',
  'approved',
  'queued',
  'sent',
  'send_failed',
  'disputed',
  'acknowledged',
  'change_proposed',
  'change_requested',
  'cancel_requested',
  'shipped',
  'arrived',
  'accepted',
  'quarantined',
  'rejected',
  'declined',
  'cancelled',
] as const;
export type OrderState = (typeof orderStates)[number];

/** What can happen to an order. */
export const orderEvents = [
  'amend',
  'submit',
  'request-changes',
  'sign',
  'place',
  'deliver',
  'fail',
  'retry',
  'dispute',
  'acknowledge',
  'promise',
  'decline',
  'ship',
  'arrive',
  'fill',
  'accept',
  'quarantine',
  'release',
  'reject',
  'cancel',
  'ask-cancel',
  'accept-cancel',
  'refuse-cancel',
  'ask-change',
  'propose-change',
  'sign-change',
  'withdraw-change',
  'accept-change',
  'refuse-change',
] as const;
export type OrderEvent = (typeof orderEvents)[number];

const office = ['coordinator', 'surgeon'] as const;
const shelf = ['inventory', 'coordinator'] as const;
/** A maker answers by a signed message; a coordinator may enter an answer that came by telephone or mail. */
const answer = ['maker', 'coordinator'] as const;

/**
 * The order's lifecycle. `amend` voids a signature (the specification it bound to is gone), so it leads back to
 * draft from everywhere before the order leaves the house. A failed sending may still have reached the maker, so it
 * can be tried again or given up but not amended. A maker that echoes another lens than the one ordered disputes the
 * order: a coordinator clears it by telephone. A maker without a message channel is told by hand (`deliver` by a
 * coordinator). Once sent, only the maker's answer or an arrival moves the order: the maker is asked to cancel, and
 * until it answers the lens may still come, be promised anew, or turn out to be on its way.
 *
 * A change after sending is a question too. Another need-by date is asked at once (`ask-change`). Another
 * specification is proposed, signed anew and only then asked; until the maker agrees, the specification in force, its
 * signature and its lens are the old ones.
 */
export const orderLifecycle: Lifecycle<OrderState, OrderEvent> = {
  name: 'order',
  states: orderStates,
  first: ['draft'],
  steps: [
    { event: 'submit', from: ['draft'], to: 'submitted', by: office },
    {
      event: 'amend',
      from: ['draft', 'changes_requested', 'submitted', 'approved'],
      to: 'draft',
      by: office,
    },
    { event: 'sign', from: ['submitted'], to: 'approved', by: ['surgeon'] },
    { event: 'request-changes', from: ['submitted'], to: 'changes_requested', by: ['surgeon'] },
    { event: 'place', from: ['approved'], to: 'queued', by: ['coordinator'] },
    { event: 'deliver', from: ['queued'], to: 'sent', by: ['worker', 'coordinator'] },
    // What could not be sent is handed over by a person.
    { event: 'deliver', from: ['send_failed'], to: 'sent', by: ['coordinator'] },
    { event: 'fail', from: ['queued'], to: 'send_failed', by: ['worker'] },
    { event: 'retry', from: ['send_failed'], to: 'queued', by: ['coordinator'] },
    {
      event: 'dispute',
      from: ['sent', 'change_requested', 'cancel_requested'],
      to: 'disputed',
      by: ['maker'],
    },
    { event: 'acknowledge', from: ['sent', 'disputed'], to: 'acknowledged', by: answer },
    { event: 'promise', from: ['acknowledged'], to: 'acknowledged', by: answer },
    {
      event: 'decline',
      from: ['sent', 'disputed', 'acknowledged', 'change_proposed', 'change_requested', 'cancel_requested'],
      to: 'declined',
      by: answer,
    },
    {
      event: 'ship',
      from: ['sent', 'acknowledged', 'change_proposed', 'change_requested', 'cancel_requested'],
      to: 'shipped',
      by: answer,
    },
    {
      event: 'arrive',
      from: ['sent', 'acknowledged', 'change_proposed', 'change_requested', 'cancel_requested', 'shipped'],
      to: 'arrived',
      by: shelf,
    },
    // A lens of the same specification stood on the shelf, so nothing is asked of a maker.
    { event: 'fill', from: ['approved'], to: 'accepted', by: shelf },
    {
      event: 'ask-cancel',
      from: ['sent', 'acknowledged', 'change_proposed'],
      to: 'cancel_requested',
      by: office,
    },
    { event: 'accept-cancel', from: ['cancel_requested', 'disputed'], to: 'cancelled', by: answer },
    { event: 'refuse-cancel', from: ['cancel_requested'], to: 'acknowledged', by: answer },
    // What the maker wrote before it read the question.
    { event: 'acknowledge', from: ['cancel_requested'], to: 'cancel_requested', by: answer },
    { event: 'promise', from: ['cancel_requested'], to: 'cancel_requested', by: answer },
    { event: 'promise', from: ['change_proposed'], to: 'change_proposed', by: answer },
    { event: 'promise', from: ['change_requested'], to: 'change_requested', by: answer },
    // Asked with the maker's own acknowledgement where the date moved before it came.
    { event: 'ask-change', from: ['acknowledged'], to: 'change_requested', by: [...office, 'maker'] },
    {
      event: 'propose-change',
      from: ['acknowledged', 'change_proposed'],
      to: 'change_proposed',
      by: office,
    },
    { event: 'sign-change', from: ['change_proposed'], to: 'change_requested', by: ['surgeon'] },
    { event: 'withdraw-change', from: ['change_proposed'], to: 'acknowledged', by: office },
    { event: 'accept-change', from: ['change_requested', 'disputed'], to: 'acknowledged', by: answer },
    { event: 'refuse-change', from: ['change_requested', 'disputed'], to: 'acknowledged', by: answer },
    { event: 'accept', from: ['arrived'], to: 'accepted', by: shelf },
    { event: 'quarantine', from: ['arrived'], to: 'quarantined', by: shelf },
    { event: 'release', from: ['quarantined'], to: 'accepted', by: ['surgeon'] },
    { event: 'reject', from: ['quarantined'], to: 'rejected', by: ['surgeon', 'inventory'] },
    {
      event: 'cancel',
      from: ['draft', 'changes_requested', 'submitted', 'approved', 'send_failed'],
      to: 'cancelled',
      by: office,
    },
  ],
};

/** Orders that are still to bring a lens: not yet accepted, and not given up. */
export const liveOrderStates: readonly OrderState[] = orderStates.filter(
  (state) => !['accepted', 'rejected', 'declined', 'cancelled'].includes(state),
);

/** Orders that are with the maker or on the way. */
export const openWithMaker: readonly OrderState[] = [
  'sent',
  'acknowledged',
  'change_proposed',
  'change_requested',
  'cancel_requested',
  'shipped',
];

/** Orders whose lens is awaited: with the maker, cleared up or not, or on the way. */
export const awaitedFromMaker: readonly OrderState[] = [...openWithMaker, 'disputed'];

/** Events by which a maker is heard from, in words or by the lens itself; who asked after an order has an answer. */
export const heardFromMaker: readonly OrderEvent[] = [
  'dispute',
  'acknowledge',
  'promise',
  'decline',
  'ship',
  'arrive',
  'accept-cancel',
  'refuse-cancel',
  'accept-change',
  'refuse-change',
];
