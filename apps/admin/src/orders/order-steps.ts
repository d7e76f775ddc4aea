import type { OrderEvent } from '@lensferry/domain';
import type { OrderSummary } from '@lensferry/contracts';

/** How a person takes a step of an order: on a page of its own, or in a form that asks for what the step needs. */
export type StepForm =
  'plain' | 'reason' | 'acknowledge' | 'promise' | 'ship' | 'consent' | 'sign' | 'plan' | 'arrivals' | 'lens';

/**
 * The form of each step. Steps that only the worker or the maker takes have none; which steps are open is the API's to say (`steps`).
 */
export const stepForms: Partial<Record<OrderEvent, StepForm>> = {
  sign: 'sign',
  submit: 'plain',
  place: 'plain',
  retry: 'plain',
  deliver: 'plain',
  arrive: 'arrivals',
  accept: 'arrivals',
  quarantine: 'arrivals',
  release: 'lens',
  reject: 'lens',
  fill: 'lens',
  acknowledge: 'acknowledge',
  ship: 'ship',
  promise: 'promise',
  amend: 'plan',
  'request-changes': 'reason',
  decline: 'reason',
  cancel: 'reason',
  'ask-cancel': 'reason',
  'accept-cancel': 'plain',
  'refuse-cancel': 'reason',
  'ask-change': 'plain',
  'propose-change': 'plan',
  'sign-change': 'sign',
  'withdraw-change': 'plain',
  'accept-change': 'consent',
  'refuse-change': 'reason',
};

/** Steps that move an order on, the main one first; the rest are ways aside. */
const onward: readonly OrderEvent[] = [
  'sign',
  'sign-change',
  'place',
  'retry',
  'submit',
  'deliver',
  'arrive',
  'accept',
  'release',
];

/** The step that moves the order on, when the person who asks can take one. */
export function mainStep(order: Pick<OrderSummary, 'steps'>): OrderEvent | null {
  return onward.find((event) => order.steps.includes(event)) ?? null;
}

/** The other steps that a person can take, each with a form; `accept` and `quarantine` follow from an arrival. */
export function otherSteps(order: Pick<OrderSummary, 'steps'>): OrderEvent[] {
  const main = mainStep(order);
  const sameDesk: readonly OrderEvent[] = ['arrive', 'accept', 'quarantine'];
  return order.steps.filter(
    (event) =>
      event !== main &&
      stepForms[event] !== undefined &&
      !(sameDesk.includes(event) && main !== null && sameDesk.includes(main)) &&
      !(event === 'reject' && main === 'release'),
  );
}

/** Where a step is taken. */
export function stepPath(order: Pick<OrderSummary, 'id' | 'case'>, event: OrderEvent): string {
  switch (stepForms[event]) {
    case 'sign':
      return `/orders/${order.id}/sign`;
    case 'plan':
      return `/cases/${order.case.id}/plan`;
    case 'arrivals':
      return `/arrivals?order=${order.id}`;
    case 'lens':
      return `/orders/${order.id}?part=lens`;
    default:
      return `/orders/${order.id}?do=${event}`;
  }
}

/** Why a step is next, as a key of the dictionary: a parcel is not on its way before its maker has shipped it. */
export function whyNext(order: Pick<OrderSummary, 'state'>, event: OrderEvent): string {
  return event === 'arrive' && order.state !== 'shipped' ? 'next.order.arrive_early' : `next.order.${event}`;
}
