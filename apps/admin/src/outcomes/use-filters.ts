import { useSearchParams } from 'react-router-dom';

/** What a report can be narrowed by, as the address keeps it. */
export const filterNames = [
  'clinicId',
  'surgeonId',
  'makerId',
  'designCode',
  'cylinder',
  'cone',
  'procedure',
  'minimumMonths',
] as const;
export type FilterName = (typeof filterNames)[number];

/** The filters of the address, so that a report can be sent to somebody and comes out the same. */
export function useFilters() {
  const [search, setSearch] = useSearchParams();
  const values = Object.fromEntries(filterNames.map((name) => [name, search.get(name) ?? ''])) as Record<
    FilterName,
    string
  >;
  const query = new URLSearchParams(Object.entries(values).filter(([, value]) => value !== '')).toString();
  return {
    values,
    /** As it stands after a question mark; empty when nothing is narrowed. */
    query: query === '' ? '' : `?${query}`,
    set(name: FilterName, value: string): void {
      setSearch(
        (before) => {
          const next = new URLSearchParams(before);
          if (value === '') next.delete(name);
          else next.set(name, value);
          return next;
        },
        { replace: true },
      );
    },
  };
}
