import type { Hand, Seen } from './world.js';

/** What usually comes next, by where the case stands: without it, random steps would seldom get past a signature. */
const byOrder: Record<string, readonly [Hand, string][]> = {
  draft: [['coordinator', 'submit']],
  submitted: [
    ['surgeon', 'sign'],
    ['surgeon', 'sign'],
    ['surgeon', 'request-changes'],
  ],
  changes_requested: [['coordinator', 'plan-longer']],
  approved: [
    ['coordinator', 'place'],
    ['coordinator', 'place'],
    ['coordinator', 'plan-longer'],
  ],
  queued: [
    ['coordinator', 'worker-sends'],
    ['coordinator', 'worker-sends'],
    ['coordinator', 'worker-fails'],
    ['coordinator', 'deliver'],
  ],
  send_failed: [['coordinator', 'retry']],
  sent: [
    ['coordinator', 'maker-acknowledges'],
    ['coordinator', 'maker-ships'],
    ['coordinator', 'acknowledge'],
    ['coordinator', 'maker-echoes-another'],
  ],
  disputed: [
    ['coordinator', 'acknowledge'],
    ['coordinator', 'accept-cancel'],
  ],
  acknowledged: [
    ['coordinator', 'maker-ships'],
    ['coordinator', 'maker-ships'],
    ['coordinator', 'theatre-date'],
    ['coordinator', 'plan-shorter'],
    ['coordinator', 'ask-cancel'],
  ],
  change_proposed: [
    ['surgeon', 'sign-change'],
    ['coordinator', 'withdraw-change'],
  ],
  change_requested: [
    ['coordinator', 'accept-change'],
    ['coordinator', 'refuse-change'],
    ['coordinator', 'maker-ships'],
  ],
  cancel_requested: [
    ['coordinator', 'refuse-cancel'],
    ['coordinator', 'maker-ships'],
    ['coordinator', 'accept-cancel'],
  ],
  shipped: [
    ['inventory', 'receive-accept'],
    ['inventory', 'receive-accept'],
    ['inventory', 'receive-quarantine'],
    ['inventory', 'receive-another-pack'],
  ],
  quarantined: [
    ['surgeon', 'release'],
    ['inventory', 'reject'],
  ],
  rejected: [['coordinator', 'plan']],
  declined: [['coordinator', 'plan']],
  cancelled: [['coordinator', 'plan']],
};
const byReturn: Record<string, string> = {
  requested: 'return-authorise',
  authorised: 'return-hand-over',
  handed_over: 'return-receive',
  received: 'return-credit',
};

export function onwardOf(seen: Seen): readonly (readonly [Hand, string])[] {
  const back = seen.returns[0] === undefined ? undefined : byReturn[seen.returns[0].state];
  const clearing: [Hand, string][] = back ? [['inventory', back]] : [];
  const explanted = seen.lenses.some(({ state }) => state === 'explanted');
  if (explanted && !back) clearing.push(['inventory', 'start-return']);
  const { order } = seen;
  if (order?.state !== 'accepted') return [...(byOrder[order?.state ?? ''] ?? []), ...clearing];
  if (seen.lenses[0]?.state === 'reserved')
    return [['surgeon', 'implant'], ['coordinator', 'implant'], ['surgeon', 'implant-another'], ...clearing];
  if (seen.inEye && !seen.exchanging) return [['surgeon', 'exchange'], ...clearing];
  if (seen.exchanging) return [['coordinator', 'plan-shorter'], ['surgeon', 'end-exchange'], ...clearing];
  return clearing.length > 0 ? clearing : [['coordinator', 'plan']];
}
