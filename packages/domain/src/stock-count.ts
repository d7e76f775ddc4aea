import type { LensState } from './lifecycles/lens.js';

/** How a count of what really stands in a place goes. */
export const countStates = ['open', 'closed', 'given_up'] as const;
export type CountState = (typeof countStates)[number];

/** Units that must be found where the record says that they stand. */
export const standingStates: readonly LensState[] = [
  'in_stock',
  'reserved',
  'quarantined',
  'explanted',
  'expired',
];

/**
 * What a count can find amiss: a unit that should stand here and was not read; one that was read here and should stand
 * in another place of the clinic; one that was read and should not stand anywhere here.
 */
export const countDifferences = ['missing', 'misplaced', 'unexpected'] as const;
export type CountDifference = (typeof countDifferences)[number];

/** What explains each difference, and so what the record becomes; `noted` changes nothing but is kept. */
export const countExplanations = {
  missing: ['stands_elsewhere', 'lost', 'noted'],
  misplaced: ['stands_here', 'put_back'],
  unexpected: ['kept_apart', 'noted'],
} as const satisfies Record<CountDifference, readonly string[]>;
export type CountExplanation = (typeof countExplanations)[CountDifference][number];
