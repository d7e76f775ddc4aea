import type { Ledger, LedgerBalance, LedgerEntry, LedgerQuery } from '@lensferry/contracts';
import { DomainError, ledgerAgeOf, ledgerAges, ledgerColumns, type LedgerColumn } from '@lensferry/domain';
import { csv } from '../platform/csv.js';
import type { Work } from '../platform/work.js';
import { readLedger, type LedgerLine } from './ledger.queries.js';

/** So many of the latest entries are shown; sums and the export take all. */
const SHOWN_AT_MOST = 200;

const written = (cents: number): string => (cents / 100).toFixed(2);
const sum = (lines: readonly LedgerLine[], column: LedgerColumn): number =>
  lines.reduce((total, { cents }) => total + cents[column], 0);
const writtenSums = (lines: readonly LedgerLine[]): Record<LedgerColumn, string> => ({
  charged: written(sum(lines, 'charged')),
  expected: written(sum(lines, 'expected')),
  credited: written(sum(lines, 'credited')),
  difference: written(sum(lines, 'difference')),
  writtenOff: written(sum(lines, 'writtenOff')),
});

/** A ledger of each maker in each of its currencies, with the credits that are still to come by their age. */
export async function showLedger(work: Work, query: LedgerQuery): Promise<Ledger> {
  const lines = await readRightly(work, query);
  return {
    balances: balancesOf(lines),
    entries: lines.slice(0, SHOWN_AT_MOST).map(entryOf),
    total: lines.length,
  };
}

/** All entries as a table for a spreadsheet. */
export async function exportLedger(work: Work, query: LedgerQuery): Promise<string> {
  const lines = await readRightly(work, query);
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

async function readRightly(work: Work, query: LedgerQuery): Promise<LedgerLine[]> {
  if (query.from !== undefined && query.to !== undefined && query.to < query.from)
    throw new DomainError(
      'refused',
      'ledger.period',
      `The period ends (${query.to}) before it begins (${query.from}).`,
    );
  return readLedger(work, query);
}

function entryOf(line: LedgerLine): LedgerEntry {
  const { id, kind, on, number, maker, clinic, currency, ageDays, note } = line;
  return { id, kind, on, number, maker, clinic, currency, ...writtenSums([line]), ageDays, note };
}

function balancesOf(lines: readonly LedgerLine[]): LedgerBalance[] {
  const groups = new Map<string, LedgerLine[]>();
  for (const line of lines) {
    const key = `${line.maker.name}\n${line.maker.id}\n${line.currency}`;
    const own = groups.get(key);
    if (own === undefined) groups.set(key, [line]);
    else own.push(line);
  }
  return [...groups]
    .sort(([a], [b]) => a.localeCompare(b))
    .flatMap(([, own]) => {
      const [first] = own;
      return first === undefined ? [] : [balanceOf(first, own)];
    });
}

function balanceOf({ maker, currency }: LedgerLine, own: readonly LedgerLine[]): LedgerBalance {
  const waiting = own.flatMap((line) => (line.ageDays === null ? [] : [{ line, days: line.ageDays }]));
  return {
    maker,
    currency,
    entries: own.length,
    ...writtenSums(own),
    balance: written(sum(own, 'charged') - sum(own, 'credited')),
    outstanding: ledgerAges.map(({ code }) => {
      const aged = waiting.filter(({ days }) => ledgerAgeOf(days) === code).map(({ line }) => line);
      return { age: code, returns: aged.length, amount: written(sum(aged, 'expected')) };
    }),
    oldestDays: waiting.length === 0 ? null : waiting.reduce((most, { days }) => Math.max(most, days), 0),
  };
}
