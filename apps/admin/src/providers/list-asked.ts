/** What a list shows to somebody who has chosen nothing. */
export interface ListAsked {
  resource: string;
  sort?: 'recent' | 'code' | 'due';
  perPage?: number;
  filter?: Record<string, string>;
}

/**
 * Rows are less than the record itself. Without a key of its own react-admin would show a row where the whole record
 * belongs.
 */
const rowsOnly = { rows: true };

/** A list says itself, where its rows would be, what failed; a message in the corner beside it would say it twice. */
const onError = () => {};

/** The same in react-admin's words. */
export const listProps = ({ resource, sort = 'recent', perPage = 25, filter }: ListAsked) => ({
  resource,
  perPage,
  sort: { field: sort, order: 'ASC' as const },
  queryOptions: { meta: rowsOnly, onError },
  ...(filter && { filterDefaultValues: filter }),
});
