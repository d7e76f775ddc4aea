import type { ReactNode } from 'react';
import { useListContext, useTranslate } from 'react-admin';
import { Empty, Failure, Loading } from './Answer';

interface Props {
  empty: string;
  children: ReactNode;
  /** Without a card of its own around it. */
  bare?: boolean;
}

/** The present page of a list: under way, failed, empty, or there with its pager. */
export function ListBody({ empty, children, bare = false }: Props) {
  const t = useTranslate();
  const {
    data,
    error,
    isPending,
    refetch,
    total = 0,
    page,
    perPage,
    setPage,
    filterValues,
  } = useListContext();
  if (isPending) return <Loading />;
  if (error && data === undefined) return <Failure error={error as Error} again={() => void refetch()} />;
  const filtered = Object.values(filterValues as object).some(Boolean);
  const last = Math.max(1, Math.ceil(total / perPage));
  return (
    <div className={bare ? undefined : 'list-page'}>
      {total === 0 ? (
        <Empty title={t(filtered ? 'list.nothing_matches' : 'list.empty')}>
          {filtered ? t('list.loosen') : empty}
        </Empty>
      ) : (
        children
      )}
      {total > 0 && !(bare && last === 1) && (
        <nav className="pager no-print" aria-label={t('list.pages')}>
          <span role="status">
            {t('list.showing', {
              from: (page - 1) * perPage + 1,
              to: Math.min(page * perPage, total),
              total,
            })}
          </span>
          {last > 1 && (
            <>
              <button type="button" className="button" disabled={page <= 1} onClick={() => setPage(page - 1)}>
                {t('list.before')}
              </button>
              <button
                type="button"
                className="button"
                disabled={page >= last}
                onClick={() => setPage(page + 1)}
              >
                {t('list.after')}
              </button>
            </>
          )}
        </nav>
      )}
    </div>
  );
}
