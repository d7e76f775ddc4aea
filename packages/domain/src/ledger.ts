import type { ReturnState } from './lifecycles/return.js';

/** What an entry of a maker's ledger is about. */
export const ledgerKinds = ['order', 'exchange', 'open', 'credited', 'written_off'] as const;
export type LedgerKind = (typeof ledgerKinds)[number];

/** The columns of a ledger, each a sum of money in the entry's currency. */
export const ledgerColumns = ['charged', 'expected', 'credited', 'difference', 'writtenOff'] as const;
export type LedgerColumn = (typeof ledgerColumns)[number];
/** Whole hundredths of the currency by column; only `difference` may be negative. */
export type LedgerCents = Readonly<Record<LedgerColumn, number>>;

/** Which kind of entry a return is: one that has not ended is `open`. */
export function ledgerKindOf(state: ReturnState): LedgerKind {
  return state === 'credited' || state === 'written_off' ? state : 'open';
}

/**
 * The money of an entry by column. `amountCents` is an order's price or a return's expected credit, `gotCents` the
 * credit that came. For every return, amount = expected + credited − difference + writtenOff: nothing is left out.
 * @example centsOf('credited', 148000, 140000) // credited 140000, difference -8000, all else 0
 */
export function centsOf(kind: LedgerKind, amountCents: number, gotCents = 0): LedgerCents {
  const none = { charged: 0, expected: 0, credited: 0, difference: 0, writtenOff: 0 };
  switch (kind) {
    case 'order':
    case 'exchange':
      return { ...none, charged: amountCents };
    case 'open':
      return { ...none, expected: amountCents };
    case 'credited':
      return { ...none, credited: gotCents, difference: gotCents - amountCents };
    case 'written_off':
      return { ...none, writtenOff: amountCents };
  }
}

/** Bands of age of a credit that is still to come, by the most days in each (common practice, no source). */
export const ledgerAges = [
  { code: 'to30', mostDays: 30 },
  { code: 'to60', mostDays: 60 },
  { code: 'to90', mostDays: 90 },
  { code: 'over90', mostDays: Infinity },
] as const;
export type LedgerAge = (typeof ledgerAges)[number]['code'];

/** The band of an age in whole days, 0 or more. */
export function ledgerAgeOf(days: number): LedgerAge {
  return ledgerAges.find(({ mostDays }) => days <= mostDays)?.code ?? 'over90';
}
