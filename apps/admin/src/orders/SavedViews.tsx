import { useState } from 'react';
import { useListContext, useStore, useTranslate } from 'react-admin';
import { useListFilter } from '../shared/parts/use-list-filter';
import { NameView } from './NameView';

interface View {
  name: string;
  filter: Record<string, unknown>;
  /** Views that were kept before the order was come in whatever order there is. */
  sort?: string;
}

const isSame = (a: Record<string, unknown>, b: Record<string, unknown>): boolean =>
  [...new Set([...Object.keys(a), ...Object.keys(b)])].every((key) => (a[key] ?? '') === (b[key] ?? ''));

/** Views of this list that the person kept under a name, on this machine; `known` are the ready-made ones. */
export function SavedViews({ known }: { known: readonly string[] }) {
  const t = useTranslate();
  const { resource } = useListContext();
  const { values, sort, show } = useListFilter();
  const [views, setViews] = useStore<View[]>(`${resource}.views`, []);
  const [naming, setNaming] = useState(false);
  const [forgotten, setForgotten] = useState<{ view: View; at: number } | null>(null);
  const { state, ...others } = values as { state?: string };
  const isFiltered = Object.values(others).some(Boolean) || (!!state && !known.includes(state));
  const isShown = (view: View) => isSame(view.filter, values) && (view.sort ?? sort) === sort;
  const keep = (name: string) => {
    setViews([...views.filter((view) => view.name !== name), { name, filter: values, sort }]);
    setNaming(false);
  };
  const forget = (view: View) => {
    setForgotten({ view, at: views.indexOf(view) });
    setViews(views.filter((one) => one !== view));
  };
  const undo = ({ view, at }: { view: View; at: number }) => {
    setViews([...views.slice(0, at), view, ...views.slice(at)]);
    setForgotten(null);
  };
  if (views.length === 0 && !isFiltered && forgotten === null) return null;
  return (
    <div className="filters no-print">
      {views.map((view) => (
        <span key={view.name} className="steps">
          <button
            type="button"
            className="chip"
            aria-pressed={isShown(view)}
            onClick={() => show(view.filter, view.sort)}
          >
            {view.name}
          </button>
          <button
            type="button"
            className="button button--text"
            aria-label={t('list.forget', { name: view.name })}
            onClick={() => forget(view)}
          >
            ×
          </button>
        </span>
      ))}
      {isFiltered && !views.some(isShown) && !naming && (
        <button type="button" className="button button--text" onClick={() => setNaming(true)}>
          {t('list.keep_view')}
        </button>
      )}
      {naming && <NameView keep={keep} onCancel={() => setNaming(false)} />}
      <span role="status">
        {forgotten && (
          <>
            {t('list.forgotten', { name: forgotten.view.name })}{' '}
            <button type="button" className="button button--text" autoFocus onClick={() => undo(forgotten)}>
              {t('list.undo')}
            </button>
          </>
        )}
      </span>
    </div>
  );
}
