import { useEffect, useState } from 'react';
import { useListContext, useTranslate } from 'react-admin';

interface Props {
  search?: string;
  states?: readonly { value: string; label: string }[];
  sorts?: readonly ('recent' | 'code' | 'due')[];
}

const PAUSE_MS = 300;

/** Search, states as chips, and the order; all of it stays in the address, so a view can be sent to somebody. */
export function ListFilters({ search, states = [], sorts = [] }: Props) {
  const t = useTranslate();
  const { filterValues, setFilters, sort, setSort } = useListContext();
  const kept = (filterValues as { q?: string }).q ?? '';
  const [text, setText] = useState(kept);
  const chosen = String((filterValues as { state?: string }).state ?? '')
    .split(',')
    .filter(Boolean);
  useEffect(() => {
    if (text === kept) return;
    const timer = setTimeout(() => setFilters({ ...filterValues, q: text || undefined }), PAUSE_MS);
    return () => clearTimeout(timer);
  }, [text, kept, filterValues, setFilters]);
  const toggle = (value: string) => {
    const next = chosen.includes(value) ? chosen.filter((one) => one !== value) : [...chosen, value];
    setFilters({ ...filterValues, state: next.join(',') || undefined });
  };
  return (
    <div className="filters no-print" role="search">
      {search && (
        <div className="field">
          <span className="field__box">
            <input
              className="field__input"
              type="search"
              aria-label={search}
              placeholder={search}
              value={text}
              onChange={(event) => setText(event.target.value)}
            />
          </span>
        </div>
      )}
      {sorts.length > 0 && (
        <span className="field__box">
          <select
            className="field__input"
            aria-label={t('list.order')}
            value={sort.field}
            onChange={(event) => setSort({ field: event.target.value, order: 'ASC' })}
          >
            {sorts.map((one) => (
              <option key={one} value={one}>
                {t(`list.sort.${one}`)}
              </option>
            ))}
          </select>
        </span>
      )}
      {states.map(({ value, label }) => (
        <button
          key={value}
          type="button"
          className="chip"
          aria-pressed={chosen.includes(value)}
          onClick={() => toggle(value)}
        >
          {label}
        </button>
      ))}
      {chosen.length > 0 && (
        <button
          type="button"
          className="button button--text"
          onClick={() => setFilters({ ...filterValues, state: undefined })}
        >
          {t('list.clear')}
        </button>
      )}
    </div>
  );
}
