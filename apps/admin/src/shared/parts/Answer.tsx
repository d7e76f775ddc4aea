import type { ReactNode } from 'react';
import { useTranslate } from 'react-admin';
import { ApiProblem, Unreachable } from '../../providers/request';

interface Query<T> {
  data?: T | undefined;
  error: Error | null;
  refetch: () => unknown;
}

/** What a query answered; or that it is under way, or why there is nothing. */
export function Answer<T>({ query, children }: { query: Query<T>; children: (data: T) => ReactNode }) {
  if (query.data !== undefined) return <>{children(query.data)}</>;
  if (query.error) return <Failure error={query.error} again={() => void query.refetch()} />;
  return <Loading />;
}

export function Loading() {
  const t = useTranslate();
  return (
    <div className="waiting-bar" role="status">
      <span />
      <span />
      <span />
      <p className="unseen">{t('common.loading')}</p>
    </div>
  );
}

function headlineOf(error: Error): string {
  if (error instanceof Unreachable) return 'common.unreachable';
  if (!(error instanceof ApiProblem)) return 'common.failed';
  if (error.status === 404) return 'common.missing';
  return error.status === 403 ? 'common.forbidden' : 'common.failed';
}

export function Failure({ error, again }: { error: Error; again?: () => void }) {
  const t = useTranslate();
  return (
    <div className="state" role="alert">
      <h2>{t(headlineOf(error))}</h2>
      {error instanceof ApiProblem && <p>{error.message}</p>}
      {again && (
        <button type="button" className="button" onClick={again}>
          {t('common.again')}
        </button>
      )}
    </div>
  );
}

/** An empty list, and what to do first. */
export function Empty({ title, children }: { title: string; children?: ReactNode }) {
  return (
    <div className="state">
      <h2>{title}</h2>
      {children}
    </div>
  );
}
