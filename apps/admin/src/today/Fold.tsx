import { Children, useState, type ReactNode } from 'react';
import { useTranslate } from 'react-admin';

const SHOWN = 6;

/** The first rows of a list; the others when they are asked for. */
export function Fold({ children }: { children: ReactNode }) {
  const t = useTranslate();
  const [open, setOpen] = useState(false);
  const rows = Children.toArray(children);
  const more = rows.length - SHOWN;
  if (open || more <= 1) return rows;
  return (
    <>
      {rows.slice(0, SHOWN)}
      <li className="rows__more">
        <button type="button" className="button button--text" onClick={() => setOpen(true)}>
          {t('today.more', { count: more })}
        </button>
      </li>
    </>
  );
}
