import type { LedgerQuery } from '@lensferry/contracts';
import {
  centsOf,
  ledgerKindOf,
  returnStates,
  type LedgerCents,
  type LedgerKind,
  type ReturnState,
} from '@lensferry/domain';
import type { Ordering } from '../platform/keyset.js';
import { dayIn, daysBetween } from '../platform/plain-date.js';
import { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';

/** An entry with its money in whole hundredths, so that sums are exact. */
export interface LedgerLine {
  readonly id: string;
  readonly kind: LedgerKind;
  readonly on: string;
  readonly number: string;
  readonly maker: { readonly id: string; readonly name: string };
  readonly clinic: { readonly id: string; readonly name: string };
  readonly currency: string;
  readonly cents: LedgerCents;
  readonly ageDays: number | null;
  readonly note: string | null;
}

/** Entries of one maker, currency, kind and age, added up. */
export interface LedgerSum {
  readonly maker: LedgerLine['maker'];
  readonly currency: string;
  readonly entries: number;
  readonly cents: LedgerCents;
  readonly ageDays: number | null;
}

/**
 * Every order that was shipped (or arrived without a notice) and every return, each once. An order is owed from the
 * day it is shipped (makers bill by then: common practice, no source), and stays owed when its lens is rejected until
 * its return is credited. A return has the day it was opened while it is open, then the day it ended. Both instants
 * are written as their indexes are (`lens_order_by_charge`, `lens_return_by_ledger_day`); no `where` within, or
 * PostgreSQL no longer merges the two by them.
 */
export const ledgerEntries = `(
  select clinic_id, id, number, maker_id, currency, replaces_lens_id is not null as replaces, null::text as state,
    price as amount, null::numeric as got, null::text as note,
    case when shipped_at is null then arrived_at else shipped_at end as at
  from lens_order
  union all
  select clinic_id, id, number, maker_id, currency, false, state::text, credit_expected, credit_got, note,
    case when state_key in (hashenum('credited'::"ReturnState"), hashenum('written_off'::"ReturnState"))
      then state_since else opened_at end
  from lens_return
)`;

export const newestFirst: Ordering = { name: 'recent', column: 'at', kind: 'instant', descending: true };

/** What holds of the entries, called `r`, that are asked for; of which clinics is not among it. */
export function holdsOf({ makerId, from, to }: LedgerQuery): Prisma.Sql[] {
  const zone = Prisma.sql`(select k.time_zone from clinic k where k.id = r.clinic_id)`;
  const day = Prisma.sql`(r.at at time zone ${zone})::date`;
  return [
    Prisma.sql`r.at is not null`,
    ...(makerId === undefined ? [] : [Prisma.sql`r.maker_id = ${makerId}::uuid`]),
    // No clinic's day is further than that from the same day in UTC: so far the index leads, then the clinic's own day decides.
    ...(from === undefined
      ? []
      : [
          Prisma.sql`r.at >= ${`${from}T00:00:00Z`}::timestamptz - interval '14 hours'`,
          Prisma.sql`${day} >= ${from}::date`,
        ]),
    ...(to === undefined
      ? []
      : [
          Prisma.sql`r.at < ${`${to}T00:00:00Z`}::timestamptz + interval '38 hours'`,
          Prisma.sql`${day} <= ${to}::date`,
        ]),
  ];
}

const clinicsOf = ({ actor }: Work, { clinicId }: LedgerQuery): string[] =>
  actor.clinicIds.filter((id) => clinicId === undefined || id === clinicId);

/** DECIMAL(12, 2) in hundredths: 12 digits are exact in a number, and so are sums of a million of them. */
const toCents = (amount: string | null): number => Math.round(Number(amount ?? 0) * 100);

interface Money {
  readonly replaces: boolean;
  readonly state: ReturnState | null;
  readonly amount: string | null;
  readonly got: string | null;
}
const kindOf = ({ state, replaces }: Money): LedgerKind =>
  state === null ? (replaces ? 'exchange' : 'order') : ledgerKindOf(state);

interface Row extends Money {
  readonly id: string;
  readonly number: string;
  readonly clinic_id: string;
  readonly maker_id: string;
  readonly currency: string;
  readonly note: string | null;
  readonly at: Date;
}

/** Entries, newest first: those with the ids given, or all that are asked for. */
export async function readLedger(
  work: Work,
  query: LedgerQuery,
  ids?: readonly string[],
): Promise<LedgerLine[]> {
  const which = ids === undefined ? [] : [Prisma.sql`r.id = any (${ids}::uuid[])`];
  const where = [
    Prisma.sql`r.clinic_id = any (${clinicsOf(work, query)}::uuid[])`,
    ...holdsOf(query),
    ...which,
  ];
  const rows = await work.tx.$queryRaw<Row[]>(Prisma.sql`
    select r.id, r.number, r.clinic_id, r.maker_id, r.currency, r.replaces, r.state, r.amount::text as amount,
      r.got::text as got, r.note, r.at
    from ${Prisma.raw(ledgerEntries)} r where ${Prisma.join(where, ' and ')}
    order by r.at desc, r.id desc`);
  const makers = await makersOf(work);
  const clinics = new Map((await work.tx.clinic.findMany()).map((clinic) => [clinic.id, clinic]));
  return rows.map((row) => {
    const clinic = clinics.get(row.clinic_id) ?? { id: row.clinic_id, name: '', timeZone: 'UTC' };
    const kind = kindOf(row);
    const on = dayIn(clinic.timeZone, row.at);
    return {
      ...{ id: row.id, kind, on, number: row.number, currency: row.currency, note: row.note },
      maker: { id: row.maker_id, name: makers.get(row.maker_id) ?? '' },
      clinic: { id: clinic.id, name: clinic.name },
      cents: centsOf(kind, toCents(row.amount), toCents(row.got)),
      ageDays: kind === 'open' ? Math.max(0, daysBetween(on, dayIn(clinic.timeZone, work.now))) : null,
    };
  });
}

const openStates = returnStates.filter((state) => ledgerKindOf(state) === 'open');

/** All entries that are asked for, added up where they are kept: as many sums as there are makers, kinds and ages. */
export async function sumLedger(work: Work, query: LedgerQuery): Promise<LedgerSum[]> {
  const where = [Prisma.sql`r.clinic_id = any (${clinicsOf(work, query)}::uuid[])`, ...holdsOf(query)];
  const sums = await work.tx.$queryRaw<
    (Money & { maker_id: string; currency: string; age: number | null; entries: number })[]
  >(Prisma.sql`
    select r.maker_id, r.currency, r.replaces, r.state,
      case when r.state = any (${openStates}::text[]) then greatest(0,
        (${work.now}::timestamptz at time zone c.time_zone)::date - (r.at at time zone c.time_zone)::date) end as age,
      count(*)::int as entries, sum(r.amount)::text as amount, sum(r.got)::text as got
    from ${Prisma.raw(ledgerEntries)} r join clinic c on c.id = r.clinic_id
    where ${Prisma.join(where, ' and ')}
    group by 1, 2, 3, 4, 5`);
  const makers = await makersOf(work);
  return sums.map((sum) => ({
    maker: { id: sum.maker_id, name: makers.get(sum.maker_id) ?? '' },
    ...{ currency: sum.currency, entries: sum.entries, ageDays: sum.age },
    // The money of an entry is its amounts added or taken away, so that of a sum is as well.
    cents: centsOf(kindOf(sum), toCents(sum.amount), toCents(sum.got)),
  }));
}

const makersOf = async ({ tx }: Work): Promise<Map<string, string>> =>
  new Map((await tx.maker.findMany()).map(({ id, name }) => [id, name]));
