import { useState } from 'react';
import { useListContext, useStore, useTranslate } from 'react-admin';
import { useListFilter } from '../shared/parts/use-list-filter';

interface View {
  name: string;
  filter: Record<string, unknown>;
}

/** Views of this list that the person kept under a name, on this machine; `known` are the ready-made ones. */
export function SavedViews({ known }: { known: readonly string[] }) {
  const t = useTranslate();
  const { resource } = useListContext();
  const { values, show } = useListFilter();
  const [views, setViews] = useStore<View[]>(`${resource}.views`, []);
  const [naming, setNaming] = useState(false);
  const { state, ...others } = values as { state?: string };
  const isFiltered = Object.values(others).some(Boolean) || (!!state && !known.includes(state));
  const keep = (name: string) => {
    if (name.trim() !== '')
      setViews([...views.filter((view) => view.name !== name.trim()), { name: name.trim(), filter: values }]);
    setNaming(false);
  };
  if (views.length === 0 && !isFiltered) return null;
  return (
    <div className="filters no-print">
      {views.map((view) => (
        <span key={view.name} className="steps">
          <button type="button" className="chip" onClick={() => show(view.filter)}>
            {view.name}
          </button>
          <button
            type="button"
            className="button button--text"
            aria-label={t('list.forget', { name: view.name })}
            onClick={() => setViews(views.filter((one) => one !== view))}
          >
            ×
          </button>
        </span>
      ))}
      {isFiltered && !naming && (
        <button type="button" className="button button--text" onClick={() => setNaming(true)}>
          {t('list.keep_view')}
        </button>
      )}
      {naming && (
        <form
          className="field"
          onSubmit={(event) => {
            event.preventDefault();
            keep(String(new FormData(event.currentTarget).get('name')));
          }}
        >
          <span className="field__box">
            <input
              className="field__input"
              name="name"
              aria-label={t('list.view_name')}
              placeholder={t('list.view_name')}
              autoFocus
              maxLength={40}
            />
          </span>
        </form>
      )}
    </div>
  );
}
