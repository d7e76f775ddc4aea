import { QueryClient } from '@tanstack/react-query';
import { ApiProblem } from './request';

/** A refusal stays a refusal; only a lost connection or a stumbling server is worth asking again. */
function worthRetrying(count: number, error: Error): boolean {
  return count < 2 && !(error instanceof ApiProblem && error.status < 500);
}

/** Where answers are kept for a while. */
export function newQueryClient(): QueryClient {
  return new QueryClient({ defaultOptions: { queries: { retry: worthRetrying, staleTime: 15_000 } } });
}
