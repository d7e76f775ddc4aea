import { useEffect, useRef, useState } from 'react';
import { useListFilter } from './use-list-filter';

const PAUSE_MS = 300;

/** Searches as one types, after a short pause. */
export function SearchField({ label }: { label: string }) {
  const { values, show } = useListFilter();
  const kept = String(values['q'] ?? '');
  const [text, setText] = useState(kept);
  const input = useRef<HTMLInputElement>(null);
  // A view chosen elsewhere changes the text; an answer that comes while one types does not.
  useEffect(() => {
    if (document.activeElement !== input.current) setText(kept);
  }, [kept]);
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);
  const search = (next: string) => {
    setText(next);
    clearTimeout(timer.current);
    timer.current = setTimeout(() => show({ ...values, q: next || undefined }), PAUSE_MS);
  };
  return (
    <div className="field">
      <span className="field__box">
        <input
          ref={input}
          className="field__input"
          type="search"
          aria-label={label}
          placeholder={label}
          value={text}
          onChange={(event) => search(event.target.value)}
        />
      </span>
    </div>
  );
}
