import type { QueryClient } from '@tanstack/react-query';
import { getQuery, parseQueryFromLocation, type Store } from 'react-admin';
import { dataProvider } from './data-provider';
import { listProps, type ListAsked } from './list-asked';
import { readQuery } from './use-read';

/** What a page asks the API for before anything else; a page whose file says so as `asks` is opened with its answer. */
export type Asks =
  | { list: ListAsked }
  /** The record whose id follows the name of its resource in the address. */
  | { record: string }
  | { read: string };

/** Where answers are kept, and what the person chose the last time. */
export interface Memory {
  queries: QueryClient;
  store: Store;
}

/** Asks what a page is going to ask, under the same keys. Never fails: what is refused is asked, and told, by the page. */
export function askAhead(asks: Asks, { queries, store }: Memory, at: Location): Promise<void> {
  if ('read' in asks) return queries.prefetchQuery(readQuery(dataProvider, asks.read));
  if ('record' in asks) {
    const id = at.pathname.split('/')[2] ?? '';
    return queries.prefetchQuery({
      queryKey: [asks.record, 'getOne', { id, meta: undefined }],
      queryFn: async ({ signal }) => (await dataProvider.getOne(asks.record, { id, signal })).data,
    });
  }
  const { resource, perPage, sort, filterDefaultValues, queryOptions } = listProps(asks.list);
  const query = getQuery({
    queryFromLocation: parseQueryFromLocation(at),
    params: store.getItem(`${resource}.listParams`),
    filterDefaultValues,
    sort,
    perPage,
  });
  const params = {
    pagination: { page: query.page, perPage: query.perPage },
    sort: { field: query.sort, order: query.order as 'ASC' | 'DESC' },
    filter: query.filter as unknown,
    meta: queryOptions.meta,
  };
  return queries.prefetchQuery({
    queryKey: [resource, 'getList', params],
    queryFn: ({ signal }) => dataProvider.getList(resource, { ...params, signal }),
  });
}
