import type { ReactNode } from 'react';
import { useListContext, useTranslate } from 'react-admin';
import { Empty, Failure, Loading } from './Answer';
import { Pager } from './Pager';
import { useListFilter } from './use-list-filter';

interface Props {
  empty: string;
  children: ReactNode;
  /** Without a card of its own around it. */
  bare?: boolean;
}

/** The present page of a list: under way, failed, empty, or there with its pager. */
export function ListBody({ empty, children, bare = false }: Props) {
  const t = useTranslate();
  const { data, error, isPending, refetch } = useListContext();
  const { cursor, values } = useListFilter();
  if (isPending) return <Loading />;
  if (error && data === undefined) return <Failure error={error as Error} again={() => void refetch()} />;
  const filtered = Object.values(values).some(Boolean);
  const isEmpty = (data?.length ?? 0) === 0;
  return (
    <div className={bare ? undefined : 'list-page'}>
      {isEmpty ? (
        <Empty title={t(filtered || cursor ? 'list.nothing_matches' : 'list.empty')}>
          {cursor ? t('list.page_gone') : filtered ? t('list.loosen') : empty}
        </Empty>
      ) : (
        children
      )}
      {(!isEmpty || cursor !== undefined) && <Pager bare={bare} />}
    </div>
  );
}
