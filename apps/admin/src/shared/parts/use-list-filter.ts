import { useListContext } from 'react-admin';

type Values = Record<string, unknown>;

/**
 * The filter of the list around, apart from where its page begins: a changed filter or order begins at the first
 * page, and a cursor of another filter would lead nowhere.
 */
export function useListFilter() {
  const { filterValues, setFilters, sort, setSort } = useListContext();
  const { cursor, ...values } = filterValues as Values & { cursor?: string };
  return {
    cursor,
    values,
    sort: sort.field,
    /** Shows the first page of another filter; in another order too, where one is given. */
    show: (next: Values, by?: string) => {
      setFilters(next);
      if (by !== undefined && by !== sort.field) setSort({ field: by, order: 'ASC' });
    },
    /** Shows the page that begins there; the first without a cursor. */
    turnTo: (next: string | undefined) =>
      setFilters(next === undefined ? values : { ...values, cursor: next }),
    /** Shows the first page in another order. */
    sortBy: (field: string) => {
      if (cursor !== undefined) setFilters(values);
      setSort({ field, order: 'ASC' });
    },
  };
}
