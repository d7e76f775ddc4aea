import type { ReactNode } from 'react';
import { useListContext, useTranslate } from 'react-admin';
import { Empty, Failure, Loading } from './Answer';
import { Pager } from './Pager';
import { useListFilter } from './use-list-filter';

interface Props {
  /** What to do where there is nothing, though nobody has narrowed the list. */
  empty: string;
  /** The filter that the list begins with. */
  first: Record<string, string>;
  children: ReactNode;
  /** Without a card of its own around it. */
  bare?: boolean;
}

/** The present page of a list: under way, failed, empty, or there with its pager. */
export function ListBody({ empty, first, children, bare = false }: Props) {
  const t = useTranslate();
  const { data, error, isPending, refetch } = useListContext();
  const { cursor, values } = useListFilter();
  if (isPending) return <Loading />;
  if (error && data === undefined) return <Failure error={error as Error} again={() => void refetch()} />;
  const isEmpty = (data?.length ?? 0) === 0;
  return (
    <div className={bare ? undefined : 'list-page'}>
      {error && (
        <div className="note note--amber stale" role="status">
          <p>{t('list.stale')}</p>
          <button type="button" className="button button--text" onClick={() => void refetch()}>
            {t('common.again')}
          </button>
        </div>
      )}
      {isEmpty ? <NothingHere {...{ empty, first, values }} pageGone={cursor !== undefined} /> : children}
      {(!isEmpty || cursor !== undefined) && <Pager bare={bare} />}
    </div>
  );
}

/** Nothing there: never anything, nothing of what the list begins with, or nothing of what somebody asked for. */
function NothingHere(props: {
  empty: string;
  first: Record<string, string>;
  values: Record<string, unknown>;
  pageGone: boolean;
}) {
  const t = useTranslate();
  const { empty, first, values, pageGone } = props;
  if (pageGone) return <Empty title={t('list.nothing_matches')}>{t('list.page_gone')}</Empty>;
  const asked = Object.entries(values).filter(([, value]) => Boolean(value));
  if (asked.length === 0) return <Empty title={t('list.empty')}>{empty}</Empty>;
  const narrowed = asked.some(([name, value]) => first[name] !== value);
  return narrowed ? (
    <Empty title={t('list.nothing_matches')}>{t('list.loosen')}</Empty>
  ) : (
    <Empty title={t('list.none_open')}>{empty}</Empty>
  );
}
