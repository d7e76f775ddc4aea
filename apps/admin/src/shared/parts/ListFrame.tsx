import type { ReactNode } from 'react';
import { ListBase } from 'react-admin';
import { ListBody } from './ListBody';
import { ListFilters } from './ListFilters';
import { Page } from './Page';

interface Props {
  resource: string;
  title: string;
  lead: string;
  /** What to do first where there is nothing yet. */
  empty: string;
  sort?: 'recent' | 'code' | 'due';
  perPage?: number;
  /** What is filtered by when the person has chosen nothing. */
  filter?: Record<string, string>;
  filters?: Parameters<typeof ListFilters>[0];
  actions?: ReactNode;
  /** Between the filters and the rows. */
  views?: ReactNode;
  /** Without a card around the rows. */
  bare?: boolean;
  /** Reads its rows from the list around it. */
  children: ReactNode;
}

/**
 * Rows are less than the record itself. Without a key of its own react-admin would show a row where the whole record
 * belongs.
 */
const rowsOnly = { rows: true };

/** A page that is a list: its sentence, its filters, its rows and its pager, the same everywhere. */
export function ListFrame({ resource, sort = 'recent', perPage = 25, filter, ...shown }: Props) {
  return (
    <ListBase
      resource={resource}
      perPage={perPage}
      sort={{ field: sort, order: 'ASC' }}
      queryOptions={{ meta: rowsOnly }}
      {...(filter && { filterDefaultValues: filter })}
      disableAuthentication
    >
      <Page title={shown.title} lead={shown.lead} actions={shown.actions}>
        {shown.filters && <ListFilters {...shown.filters} />}
        {shown.views}
        <ListBody empty={shown.empty} {...(shown.bare && { bare: true })}>
          {shown.children}
        </ListBody>
      </Page>
    </ListBase>
  );
}
