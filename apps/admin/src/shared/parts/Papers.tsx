import { useTranslate } from 'react-admin';
import { Section } from './Page';

/** A document by its address, and the name that it has in the dictionary. */
export interface Paper {
  readonly name: string;
  readonly href: string;
}

/** Documents of the thing that is shown, each opened in a window of its own; made anew from the record when it is asked for. */
export function Papers({ papers }: { papers: readonly Paper[] }) {
  const t = useTranslate();
  if (papers.length === 0) return null;
  return (
    <div className="no-print">
      <Section title={t('paper.title')} note={t('paper.note')}>
        <p className="steps">
          {papers.map(({ name, href }) => (
            <a key={name} className="button" href={href} target="_blank" rel="noreferrer">
              {t(`paper.${name}`)}
            </a>
          ))}
        </p>
      </Section>
    </div>
  );
}
