import { useListContext, useTranslate } from 'react-admin';
import type { PageMeta } from '../../providers/data-provider';
import { useListFilter } from './use-list-filter';

/** How much is shown of how much, and the pages beside this one. */
export function Pager({ bare = false }: { bare?: boolean }) {
  const t = useTranslate();
  const { data = [], total = 0, meta } = useListContext();
  const { cursor, turnTo } = useListFilter();
  const { next = null, previous = null, totalIsLeast = false } = (meta ?? {}) as Partial<PageMeta>;
  const isWhole = next === null && previous === null && cursor === undefined;
  if (bare && isWhole) return null;
  return (
    <nav className="pager no-print" aria-label={t('list.pages')}>
      <span role="status">
        {isWhole
          ? t('list.showing_all', { smart_count: data.length })
          : t(totalIsLeast ? 'list.showing_of_more' : 'list.showing', { count: data.length, total })}
      </span>
      {!isWhole && (
        <>
          <button
            type="button"
            className="button button--text"
            disabled={cursor === undefined}
            onClick={() => turnTo(undefined)}
          >
            {t('list.first')}
          </button>
          <button
            type="button"
            className="button"
            disabled={previous === null}
            onClick={() => turnTo(previous ?? undefined)}
          >
            {t('list.before')}
          </button>
          <button
            type="button"
            className="button"
            disabled={next === null}
            onClick={() => turnTo(next ?? undefined)}
          >
            {t('list.after')}
          </button>
        </>
      )}
    </nav>
  );
}
