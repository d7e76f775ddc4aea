import type { Awaited, OrderEvent } from '@lensferry/domain';
import type { CaseDetail, OrderSummary } from '@lensferry/contracts';
import { mainStep, stepPath, whyNext } from '../orders/order-steps';

export type CaseAction = CaseDetail['actions'][number];

export type NextStep =
  | { kind: 'order'; order: OrderSummary; step: OrderEvent }
  | { kind: 'case'; action: CaseAction }
  | { kind: 'none' };

/** What a person does about what a case waits for; which of it is allowed is the API's to say (`actions`). */
const actionFor: Partial<Record<Awaited, CaseAction>> = {
  measurements: 'measure',
  plan: 'plan',
  'plan-after-decline': 'plan',
  changes: 'plan',
  surgery: 'implant',
  'first-visit': 'measure',
  'next-visit': 'measure',
};

/** The order of the case's present round that was opened last; a companion is not what the case waits for. */
export function presentOrder(of: Pick<CaseDetail, 'orders' | 'round'>): OrderSummary | null {
  const orders = of.orders.filter(({ round, companionOf }) => round === of.round && companionOf === null);
  return orders.reduce<OrderSummary | null>(
    (last, next) => (last === null || next.openedAt > last.openedAt ? next : last),
    null,
  );
}

/** Whether the latest vault of the lens that is in the eye now calls for a look. */
export function poorVault(
  of: Pick<CaseDetail, 'vaultChecks' | 'inExchange' | 'implantations'>,
): CaseDetail['vaultChecks'][number] | null {
  const inEye = of.implantations.find(({ explantedOn }) => explantedOn === null);
  const latest = of.vaultChecks
    .filter(({ lensId }) => lensId === inEye?.lensId)
    .sort((a, b) => a.takenOn.localeCompare(b.takenOn))
    .at(-1);
  return latest && !of.inExchange && latest.level !== 'fine' ? latest : null;
}

/** The one step that moves the case, for the person who asked for it. */
export function nextStepOf(of: CaseDetail): NextStep {
  if (poorVault(of) && of.actions.includes('exchange')) return { kind: 'case', action: 'exchange' };
  const order = presentOrder(of);
  const action = actionFor[of.waiting.for];
  if (order && action === undefined) {
    const step = mainStep(order);
    if (step) return { kind: 'order', order, step };
  }
  if (action === 'implant' && of.theatreOn === null && of.actions.includes('schedule'))
    return { kind: 'case', action: 'schedule' };
  if (action && of.actions.includes(action)) return { kind: 'case', action };
  return { kind: 'none' };
}

/** Where a case's action is taken. */
export function actionPath(of: { id: string }, action: CaseAction): string {
  if (action === 'measure') return `/cases/${of.id}/measure`;
  if (action === 'plan') return `/cases/${of.id}/plan`;
  return `/cases/${of.id}?do=${action}`;
}

/** How the next step is called, why it is next, and where it is taken; keys of the dictionary. */
export function sayNext(of: CaseDetail, next: NextStep): { name: string; why: string; to: string | null } {
  if (next.kind === 'order')
    return {
      name: `step.order.${next.step}`,
      why: whyNext(next.order, next.step),
      to: stepPath(next.order, next.step),
    };
  if (next.kind === 'none') return { name: 'next.nothing', why: `next.wait.${of.waiting.for}`, to: null };
  // Measuring an eye that misses nothing is a visit after surgery.
  if (next.action === 'measure' && of.missing.length === 0)
    return { name: 'step.case.visit', why: 'next.case.visit', to: `/cases/${of.id}/measure?kind=vault` };
  return {
    name: `step.case.${next.action}`,
    why: `next.case.${next.action}`,
    to: actionPath(of, next.action),
  };
}

/** Actions that are no step onward, in the order in which they are offered. */
const aside: readonly CaseAction[] = [
  'measure',
  'plan',
  'schedule',
  'implant',
  'exchange',
  'end-exchange',
  'consider',
  'close',
  'withdraw',
  'identity',
  'export-subject',
  'erase-identity',
];

/** What else the person may do with the case. */
export function otherActions(of: CaseDetail, next: NextStep): CaseAction[] {
  return aside.filter(
    (action) => of.actions.includes(action) && !(next.kind === 'case' && next.action === action),
  );
}
