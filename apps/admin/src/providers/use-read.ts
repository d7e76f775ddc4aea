import {
  useQuery,
  useQueryClient,
  type Query,
  type QueryFunctionContext,
  type UseQueryResult,
} from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import { useDataProvider } from 'react-admin';
import type { LensferryDataProvider } from './data-provider';

/** How an answer that is no list or record is asked for, and under which key it is kept. */
export const readQuery = <T>(data: LensferryDataProvider, path: string) => ({
  queryKey: ['read', path],
  queryFn: ({ signal }: QueryFunctionContext) => data.read<T>(path, signal),
});

/** An answer of the API that is no list or record of a resource; refreshed with everything else. */
export function useRead<T>(path: string, enabled = true): UseQueryResult<T> {
  const data = useDataProvider<LensferryDataProvider>();
  return useQuery<T>({ ...readQuery<T>(data, path), enabled });
}

/** As `useRead`, but first asked for when everything else that is on screen has been answered. */
export function useReadAfterAll<T>(path: string): UseQueryResult<T> {
  const queries = useQueryClient();
  const [turn, setTurn] = useState(false);
  useEffect(() => {
    if (turn) return;
    const isOther = { predicate: ({ queryKey }: Query) => queryKey[1] !== path };
    let timer: ReturnType<typeof setTimeout>;
    // Hundreds of answers may be kept at once: looked at when they are, and when what is drawn with them has asked.
    const lookSoon = () => {
      clearTimeout(timer);
      timer = setTimeout(() => queries.isFetching(isOther) === 0 && setTurn(true));
    };
    lookSoon();
    const forget = queries.getQueryCache().subscribe(lookSoon);
    return () => {
      clearTimeout(timer);
      forget();
    };
  }, [turn, queries, path]);
  return useRead<T>(path, turn);
}
