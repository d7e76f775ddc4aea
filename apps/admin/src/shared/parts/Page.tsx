import { useEffect, type ReactNode } from 'react';

interface Props {
  title: string;
  /** What matters now, in a sentence. */
  lead?: ReactNode;
  /** At the right of the title. */
  actions?: ReactNode;
  children: ReactNode;
}

/** A page: its title, its sentence, then everything else. */
export function Page({ title, lead, actions, children }: Props) {
  useEffect(() => {
    document.title = `${title} · Lensferry`;
  }, [title]);
  return (
    <>
      <header className="page__head">
        <div className="page__row">
          <h1>{title}</h1>
          {actions && <div className="no-print">{actions}</div>}
        </div>
        {/* Its place is kept while it loads, so that nothing below moves. */}
        <p>{lead || '\u00a0'}</p>
      </header>
      {children}
    </>
  );
}

interface SectionProps {
  title: string;
  note?: ReactNode;
  aside?: ReactNode;
  id?: string;
  children: ReactNode;
}

export function Section({ title, note, aside, id, children }: SectionProps) {
  return (
    <section className="section" id={id} aria-label={title}>
      <div className="section__head">
        {aside && <div className="section__aside no-print">{aside}</div>}
        <h2>{title}</h2> {note && <span className="muted">· {note}</span>}
      </div>
      {children}
    </section>
  );
}
