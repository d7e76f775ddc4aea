import type { LedgerQuery } from '@lensferry/contracts';
import { useListFilter } from '../shared/parts/use-list-filter';

/** By what a ledger can be narrowed. */
export const ledgerFilters = [
  'makerId',
  'clinicId',
  'from',
  'to',
] as const satisfies readonly (keyof LedgerQuery)[];
export type LedgerFilter = (typeof ledgerFilters)[number];

/** The filter of the ledger around as the end of an address: `?makerId=…`, or nothing. */
export function useLedgerQuery(): string {
  const { values } = useListFilter();
  const asked = new URLSearchParams(
    ledgerFilters.flatMap((name) => (values[name] ? [[name, String(values[name])]] : [])),
  ).toString();
  return asked === '' ? '' : `?${asked}`;
}
