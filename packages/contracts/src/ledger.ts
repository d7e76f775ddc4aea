import { ledgerAges, ledgerKinds, type LedgerAge } from '@lensferry/domain';
import { z } from 'zod';
import { Id, ListQuery, pageOf, PlainDate } from './common.js';

/** Money as a decimal string with two places that may be negative, such as `-80.00`. */
const SignedAmount = z.string().regex(/^-?\d{1,12}\.\d{2}$/);

const narrowed = {
  makerId: z.uuid().optional(),
  clinicId: z.uuid().optional(),
  from: PlainDate.optional(),
  to: PlainDate.optional(),
};

/** Whose ledger, and the days (both included) that its entries are of. */
export const LedgerQuery = z.strictObject(narrowed).meta({ id: 'LedgerQuery' });
export type LedgerQuery = z.infer<typeof LedgerQuery>;

/** A page of the entries of a ledger. */
export const LedgerPageQuery = z
  .strictObject({
    ...narrowed,
    cursor: ListQuery.shape.cursor,
    perPage: ListQuery.shape.perPage,
    sort: z.enum(['recent']).default('recent'),
  })
  .meta({ id: 'LedgerPageQuery' });
export type LedgerPageQuery = z.infer<typeof LedgerPageQuery>;

const sums = {
  /** Prices of lenses that the maker has shipped, or that arrived without a notice. */
  charged: SignedAmount,
  /** Credits still to come. */
  expected: SignedAmount,
  /** Credits that came. */
  credited: SignedAmount,
  /** Credits that came less what was expected of them; negative when short. */
  difference: SignedAmount,
  /** Credits that were given up. */
  writtenOff: SignedAmount,
};

export const LedgerEntry = z
  .object({
    /** The order's or the return's. */
    id: Id,
    kind: z.enum(ledgerKinds),
    /** The clinic's day: shipped, return opened while it is open, or ended. */
    on: PlainDate,
    number: z.string(),
    maker: z.object({ id: Id, name: z.string() }),
    clinic: z.object({ id: Id, name: z.string() }),
    currency: z.string(),
    ...sums,
    /** How long an open return has waited, in days. */
    ageDays: z.int().nullable(),
    note: z.string().nullable(),
  })
  .meta({ id: 'LedgerEntry' });
export type LedgerEntry = z.infer<typeof LedgerEntry>;

const ages = ledgerAges.map(({ code }) => code) as [LedgerAge, ...LedgerAge[]];
export const LedgerBalance = z
  .object({
    maker: z.object({ id: Id, name: z.string() }),
    currency: z.string(),
    entries: z.int(),
    ...sums,
    /** Charged less credited. What was paid is not kept here. */
    balance: SignedAmount,
    /** The credits still to come by age; every band is there. */
    outstanding: z.array(z.object({ age: z.enum(ages), returns: z.int(), amount: SignedAmount })),
    oldestDays: z.int().nullable(),
  })
  .meta({ id: 'LedgerBalance' });
export type LedgerBalance = z.infer<typeof LedgerBalance>;

/** One balance per maker and currency; the sums are over all entries that are asked for. */
export const LedgerBalances = z.object({ balances: z.array(LedgerBalance) }).meta({ id: 'LedgerBalances' });
export type LedgerBalances = z.infer<typeof LedgerBalances>;

export const LedgerPage = pageOf(LedgerEntry, 'LedgerPage');
export type LedgerPage = z.infer<typeof LedgerPage>;
