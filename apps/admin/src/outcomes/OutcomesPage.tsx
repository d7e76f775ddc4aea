import { useTranslate } from 'react-admin';
import { NavLink, useParams } from 'react-router-dom';
import { Page } from '../shared/parts/Page';
import { LearningPart } from './LearningPart';
import { MakersPart } from './MakersPart';
import { PatientSheet } from './PatientSheet';
import { ResultsPart } from './ResultsPart';
import { useFilters } from './use-filters';
import { VisitsPart } from './VisitsPart';
import './outcomes.css';

const parts = ['results', 'learning', 'visits', 'makers'] as const;

/** What became of the eyes, what it teaches, who is due to come, and how makers keep their word. */
export function OutcomesPage() {
  const t = useTranslate();
  const { part = 'results', id } = useParams();
  const { query } = useFilters();
  if (part === 'sheet' && id !== undefined) return <PatientSheet caseId={id} />;
  return (
    <Page
      title={t('place.outcomes')}
      lead={t(`outcome.lead.${part}`)}
      actions={
        <button type="button" className="button" onClick={() => window.print()}>
          {t('common.print')}
        </button>
      }
    >
      <nav className="steps outcome-parts no-print" aria-label={t('outcome.parts')}>
        {parts.map((name) => (
          <NavLink
            key={name}
            className="chip"
            aria-current={name === part}
            end
            to={`/outcomes${name === 'results' ? '' : `/${name}`}${query}`}
          >
            {t(`outcome.part.${name}`)}
          </NavLink>
        ))}
      </nav>
      {part === 'learning' ? (
        <LearningPart />
      ) : part === 'visits' ? (
        <VisitsPart />
      ) : part === 'makers' ? (
        <MakersPart />
      ) : (
        <ResultsPart />
      )}
    </Page>
  );
}
