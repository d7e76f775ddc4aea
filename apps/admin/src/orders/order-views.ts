import { liveOrderStates, openWithMaker, orderStates, type OrderState } from '@lensferry/domain';

/** Orders that need somebody to step in. */
const trouble: readonly OrderState[] = [
  'send_failed',
  'disputed',
  'declined',
  'quarantined',
  'changes_requested',
];

/** Ready-made views of the orders: a name and the states in it; what is live and what is with makers is the domain's. */
export const orderViews: readonly { name: string; states: readonly OrderState[] }[] = [
  { name: 'live', states: liveOrderStates },
  { name: 'with_maker', states: openWithMaker },
  { name: 'trouble', states: trouble },
  { name: 'ended', states: orderStates.filter((state) => !liveOrderStates.includes(state)) },
];
