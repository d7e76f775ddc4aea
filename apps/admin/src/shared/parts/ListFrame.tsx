import type { ReactNode } from 'react';
import { ListBase, useRestoreScrollPosition } from 'react-admin';
import { listProps, type ListAsked } from '../../providers/list-asked';
import { ListBody } from './ListBody';
import { ListFilters } from './ListFilters';
import { Page } from './Page';

interface Props {
  asked: ListAsked;
  title: string;
  lead: string;
  /** What to do where there is nothing, though nobody has narrowed the list. */
  empty: string;
  filters?: Parameters<typeof ListFilters>[0];
  actions?: ReactNode;
  /** Between the filters and the rows. */
  views?: ReactNode;
  /** Puts the rows into what has to be answered before them, so that they don't move when it comes. */
  around?: (rows: ReactNode) => ReactNode;
  /** Without a card around the rows. */
  bare?: boolean;
  /** Reads its rows from the list around it. */
  children: ReactNode;
}

/** A page that is a list: its sentence, its filters, its rows and its pager, the same everywhere. */
export function ListFrame({ asked, ...shown }: Props) {
  useRestoreScrollPosition(`${asked.resource}.list.scrollPosition`);
  const rows = (
    <ListBody empty={shown.empty} first={asked.filter ?? {}} {...(shown.bare && { bare: true })}>
      {shown.children}
    </ListBody>
  );
  return (
    <ListBase {...listProps(asked)} disableAuthentication>
      <Page title={shown.title} lead={shown.lead} actions={shown.actions}>
        {shown.filters && <ListFilters {...shown.filters} />}
        {shown.views}
        {shown.around ? shown.around(rows) : rows}
      </Page>
    </ListBase>
  );
}
