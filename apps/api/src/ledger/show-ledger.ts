import type {
  LedgerBalance,
  LedgerBalances,
  LedgerEntry,
  LedgerPage,
  LedgerPageQuery,
  LedgerQuery,
} from '@lensferry/contracts';
import { DomainError, ledgerAgeOf, ledgerAges, ledgerColumns, type LedgerColumn } from '@lensferry/domain';
import { csv } from '../platform/csv.js';
import { cutPage, inOrderOf } from '../platform/keyset.js';
import type { Work } from '../platform/work.js';
import {
  holdsOf,
  ledgerEntries,
  newestFirst,
  readLedger,
  sumLedger,
  type LedgerLine,
  type LedgerSum,
} from './ledger.queries.js';

type Cents = Pick<LedgerLine, 'cents'>;
const written = (cents: number): string => (cents / 100).toFixed(2);
const sum = (of: readonly Cents[], column: LedgerColumn): number =>
  of.reduce((total, { cents }) => total + cents[column], 0);
const writtenSums = (of: readonly Cents[]): Record<LedgerColumn, string> => ({
  charged: written(sum(of, 'charged')),
  expected: written(sum(of, 'expected')),
  credited: written(sum(of, 'credited')),
  difference: written(sum(of, 'difference')),
  writtenOff: written(sum(of, 'writtenOff')),
});

/** A page of the ledger's entries, newest first. */
export async function listLedger(work: Work, query: LedgerPageQuery): Promise<LedgerPage> {
  refuseBackwards(query);
  const { keys, ...page } = await cutPage(
    work,
    { table: ledgerEntries, where: holdsOf(query) },
    newestFirst,
    query,
  );
  const lines = await readLedger(work, query, keys.flat());
  return { items: inOrderOf(keys, lines.map(entryOf)), ...page };
}

/** The sums of each maker in each of its currencies, with the credits that are still to come by their age. */
export async function showBalances(work: Work, query: LedgerQuery): Promise<LedgerBalances> {
  refuseBackwards(query);
  return { balances: balancesOf(await sumLedger(work, query)) };
}

/** All entries as a table for a spreadsheet. */
export async function exportLedger(work: Work, query: LedgerQuery): Promise<string> {
  refuseBackwards(query);
  const lines = await readLedger(work, query);
  const head = ['day', 'maker', 'clinic', 'kind', 'number', 'currency', ...ledgerColumns, 'age_days', 'note'];
  return csv([
    head.map((name) => (name === 'writtenOff' ? 'written_off' : name)),
    ...lines.map(({ cents, ...line }) => [
      ...[line.on, line.maker.name, line.clinic.name, line.kind, line.number, line.currency],
      ...ledgerColumns.map((column) => written(cents[column])),
      ...[line.ageDays, line.note],
    ]),
  ]);
}

function refuseBackwards({ from, to }: LedgerQuery): void {
  if (from !== undefined && to !== undefined && to < from)
    throw new DomainError('refused', 'ledger.period', `The period ends (${to}) before it begins (${from}).`);
}

function entryOf(line: LedgerLine): LedgerEntry {
  const { id, kind, on, number, maker, clinic, currency, ageDays, note } = line;
  return { id, kind, on, number, maker, clinic, currency, ...writtenSums([line]), ageDays, note };
}

function balancesOf(sums: readonly LedgerSum[]): LedgerBalance[] {
  const groups = new Map<string, LedgerSum[]>();
  for (const one of sums) {
    const key = `${one.maker.name}\n${one.maker.id}\n${one.currency}`;
    const own = groups.get(key);
    if (own === undefined) groups.set(key, [one]);
    else own.push(one);
  }
  return [...groups]
    .sort(([a], [b]) => a.localeCompare(b))
    .flatMap(([, own]) => {
      const [first] = own;
      return first === undefined ? [] : [balanceOf(first, own)];
    });
}

const countOf = (sums: readonly LedgerSum[]): number =>
  sums.reduce((total, { entries }) => total + entries, 0);

function balanceOf({ maker, currency }: LedgerSum, own: readonly LedgerSum[]): LedgerBalance {
  const waiting = own.flatMap((one) => (one.ageDays === null ? [] : [{ one, days: one.ageDays }]));
  return {
    maker,
    currency,
    entries: countOf(own),
    ...writtenSums(own),
    balance: written(sum(own, 'charged') - sum(own, 'credited')),
    outstanding: ledgerAges.map(({ code }) => {
      const aged = waiting.filter(({ days }) => ledgerAgeOf(days) === code).map(({ one }) => one);
      return { age: code, returns: countOf(aged), amount: written(sum(aged, 'expected')) };
    }),
    oldestDays: waiting.length === 0 ? null : waiting.reduce((most, { days }) => Math.max(most, days), 0),
  };
}
