import { useQuery, type UseQueryResult } from '@tanstack/react-query';
import { useDataProvider } from 'react-admin';
import type { LensferryDataProvider } from './data-provider';

/** An answer of the API that is no list or record of a resource; refreshed with everything else. */
export function useRead<T>(path: string, enabled = true): UseQueryResult<T> {
  const data = useDataProvider<LensferryDataProvider>();
  return useQuery<T>({
    queryKey: ['read', path],
    queryFn: ({ signal }) => data.read<T>(path, signal),
    enabled,
  });
}
