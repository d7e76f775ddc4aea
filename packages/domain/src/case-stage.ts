import type { LensState } from './lifecycles/lens.js';
import type { OrderState } from './lifecycles/order.js';
import type { Role } from './roles.js';

/** The stages of a case (one eye). A stage is never set: it follows from what has happened. */
export const caseStages = [
  'assessing',
  'stabilising',
  'planning',
  'awaiting_approval',
  'on_order',
  'lens_here',
  'implanted',
  'follow_up',
  'closed',
  'withdrawn',
] as const;
export type CaseStage = (typeof caseStages)[number];

/** The facts that decide a case's stage. Dates are ISO plain dates; `now` is today at the clinic. */
export interface StageFacts {
  readonly withdrawn: boolean;
  readonly closed: boolean;
  /** All measurements that a plan needs are there. */
  readonly measured: boolean;
  /** Months since the latest stabilising procedure; null when none is on record. */
  readonly monthsSinceStabilising: number | null;
  /** From how many months a cornea counts as stable; a setting of the network. */
  readonly stableFromMonths: number;
  /** The latest order of the present round (a round begins with the case and with each exchange). */
  readonly order: OrderState | null;
  /** The lens that the present round's order brought, if any. */
  readonly lens: LensState | null;
  /** A lens is in the eye now. */
  readonly lensInEye: boolean;
  /** An exchange has been opened and its replacement is not yet in the eye. */
  readonly exchangeOpen: boolean;
  /** At least one visit after the latest implantation. */
  readonly seenAfterSurgery: boolean;
}

const stageOfOrder: Record<OrderState, CaseStage> = {
  draft: 'planning',
  changes_requested: 'planning',
  submitted: 'awaiting_approval',
  approved: 'on_order',
  queued: 'on_order',
  sent: 'on_order',
  send_failed: 'on_order',
  disputed: 'on_order',
  acknowledged: 'on_order',
  change_proposed: 'on_order',
  change_requested: 'on_order',
  cancel_requested: 'on_order',
  shipped: 'on_order',
  arrived: 'on_order',
  quarantined: 'on_order',
  accepted: 'lens_here',
  rejected: 'planning',
  declined: 'planning',
  cancelled: 'planning',
};

/** The stage that follows from the facts. During an exchange it is the stage of the replacement's round. */
export function stageOf(facts: StageFacts): CaseStage {
  if (facts.withdrawn) return 'withdrawn';
  if (facts.closed) return 'closed';
  if (facts.lensInEye && !facts.exchangeOpen) return facts.seenAfterSurgery ? 'follow_up' : 'implanted';
  if (facts.order !== null) {
    // On the shelf for nobody is not here for this eye.
    const lensGone = facts.order === 'accepted' && facts.lens !== 'reserved';
    return lensGone ? 'planning' : stageOfOrder[facts.order];
  }
  if (facts.exchangeOpen) return 'planning';
  if (!facts.measured) return 'assessing';
  const months = facts.monthsSinceStabilising;
  return months !== null && months < facts.stableFromMonths ? 'stabilising' : 'planning';
}

/** What a case waits for, as a code that the screens put into words, and by whom. */
export const awaited = {
  measurements: 'coordinator',
  stability: 'surgeon',
  plan: 'coordinator',
  'plan-after-decline': 'coordinator',
  submission: 'coordinator',
  changes: 'coordinator',
  signature: 'surgeon',
  placing: 'coordinator',
  sending: 'worker',
  'send-again': 'coordinator',
  clearing: 'coordinator',
  acknowledgement: 'maker',
  shipping: 'maker',
  cancellation: 'maker',
  'change-signature': 'surgeon',
  change: 'maker',
  parcel: 'inventory',
  inspection: 'inventory',
  'quarantine-decision': 'surgeon',
  surgery: 'surgeon',
  'first-visit': 'coordinator',
  'next-visit': 'coordinator',
  nothing: null,
} as const satisfies Record<string, Role | 'maker' | 'worker' | null>;
export type Awaited = keyof typeof awaited;

const awaitedOfOrder: Record<OrderState, Awaited> = {
  draft: 'submission',
  changes_requested: 'changes',
  submitted: 'signature',
  approved: 'placing',
  queued: 'sending',
  sent: 'acknowledgement',
  send_failed: 'send-again',
  disputed: 'clearing',
  acknowledged: 'shipping',
  change_proposed: 'change-signature',
  change_requested: 'change',
  cancel_requested: 'cancellation',
  shipped: 'parcel',
  arrived: 'inspection',
  quarantined: 'quarantine-decision',
  accepted: 'surgery',
  rejected: 'plan',
  declined: 'plan-after-decline',
  cancelled: 'plan',
};

/** What the case waits for next. */
export function awaitedOf(facts: StageFacts): Awaited {
  const stage = stageOf(facts);
  switch (stage) {
    case 'withdrawn':
    case 'closed':
      return 'nothing';
    case 'assessing':
      return 'measurements';
    case 'stabilising':
      return 'stability';
    case 'implanted':
      return 'first-visit';
    case 'follow_up':
      return 'next-visit';
    case 'lens_here':
      return 'surgery';
    default:
      if (facts.order === null || (facts.order === 'accepted' && stage === 'planning')) return 'plan';
      return awaitedOfOrder[facts.order];
  }
}
