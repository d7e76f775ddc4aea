import { useGetOne, useTranslate } from 'react-admin';
import { NavLink, useParams } from 'react-router-dom';
import type { CaseDetail } from '@lensferry/contracts';
import type { Asks } from '../providers/ask-ahead';
import { useKeepRecent } from '../frame/recent';
import { Answer } from '../shared/parts/Answer';
import { Cautions } from '../shared/parts/Cautions';
import { Papers, type Paper } from '../shared/parts/Papers';
import { Page } from '../shared/parts/Page';
import { CaseDialogs } from './CaseDialogs';
import { CaseHistory, CaseLenses, CaseOrders } from './CaseParts';
import { CaseLead } from './CaseLead';
import { MeasurementsPart } from './MeasurementsPart';
import { NextStepCard } from './NextStepCard';
import { Overview, SideFindings } from './Overview';
import { StageRail } from './StageRail';
import './case.css';

const parts = ['overview', 'measurements', 'orders', 'lenses', 'history'] as const;
type Part = (typeof parts)[number];

export const asks = { record: 'cases' } satisfies Asks;

/** One eye: where it stands, what is waited for, the pictures, and the one step that moves it. */
export function CasePage() {
  const t = useTranslate();
  const { id = '', part = 'overview' } = useParams();
  const query = useGetOne<CaseDetail>('cases', { id });
  const title = query.data ? `${query.data.codeName} · ${t(`eye.${query.data.eye}`)}` : t('case.one');
  useKeepRecent('case', `/cases/${id}`, query.data && title);
  return (
    <Page title={title} lead={query.data && <CaseLead of={query.data} />}>
      <Answer query={query}>
        {(of) => (
          <>
            <div className="case">
              <StageRail of={of} />
              <aside className="case__side" aria-label={t('case.next')}>
                <NextStepCard of={of} />
                <SideFindings of={of} />
              </aside>
              <div className="case__middle">
                <nav className="tabs no-print" aria-label={t('case.parts')}>
                  {parts.map((one) => (
                    <NavLink
                      key={one}
                      className="tabs__tab"
                      end
                      to={one === 'overview' ? `/cases/${of.id}` : `/cases/${of.id}/${one}`}
                      aria-current={one === part ? 'page' : undefined}
                    >
                      {t(`case.part.${one}`)}
                    </NavLink>
                  ))}
                </nav>
                <CasePart of={of} part={part as Part} />
              </div>
            </div>
            <Papers papers={papersOf(of)} />
            <Cautions />
            <CaseDialogs of={of} />
          </>
        )}
      </Answer>
    </Page>
  );
}

/** The case's papers: a sheet for theatre once something is ordered, a card once a lens is in the eye. */
function papersOf(of: CaseDetail): Paper[] {
  const inEye = of.implantations.some(({ explantedOn }) => explantedOn === null);
  const names = [
    ...(of.orders.length > 0 ? ['theatre-sheet'] : []),
    ...(inEye && of.actions.includes('identity') ? ['implant-card'] : []),
  ];
  return [
    ...names.map((name) => ({ name, href: `/api/cases/${of.id}/${name}.pdf` })),
    { name: 'patient-sheet', href: `/outcomes/sheet/${of.id}` },
    ...(of.plans.length > 0
      ? (['en', 'de'] as const).map((language) => ({
          name: `patient-sheet-${language}`,
          href: `/api/cases/${of.id}/patient-sheet.pdf?language=${language}`,
        }))
      : []),
    { name: 'fhir', href: `/api/cases/${of.id}/fhir` },
  ];
}

function CasePart({ of, part }: { of: CaseDetail; part: Part }) {
  switch (part) {
    case 'measurements':
      return <MeasurementsPart of={of} />;
    case 'orders':
      return <CaseOrders of={of} />;
    case 'lenses':
      return <CaseLenses of={of} />;
    case 'history':
      return <CaseHistory of={of} />;
    default:
      return <Overview of={of} />;
  }
}
