import { useTranslate } from 'react-admin';
import type { DueVisit, DueVisits } from '@lensferry/contracts';
import { useRead } from '../providers/use-read';
import { useFormat, useToday } from '../shared/format/use-format';
import { Answer, Empty } from '../shared/parts/Answer';
import { Section } from '../shared/parts/Page';
import { CaseName } from '../shared/parts/CaseName';
import { Pill } from '../shared/parts/Pill';
import { visitName } from './refraction-figures';
import { VisitDays } from './VisitDays';
import { useFilters } from './use-filters';

const states = ['overdue', 'due', 'ahead'] as const;
const tones = { overdue: 'amber', due: 'sea', ahead: 'plain' } as const;

/** Who is due for a visit, the longest overdue first. */
export function VisitsPart() {
  const t = useTranslate();
  const { values } = useFilters();
  const query = values.clinicId === '' ? '' : `?clinicId=${encodeURIComponent(values.clinicId)}`;
  const visits = useRead<DueVisits>(`/outcomes/visits${query}`);
  return (
    <Answer query={visits}>
      {({ items, total, schedule }) => (
        <>
          {items.length === 0 && <Empty title={t('outcome.no_visits')}>{t('outcome.no_visits_hint')}</Empty>}
          {states.map((state) => {
            const own = items.filter((item) => item.state === state);
            return own.length === 0 ? null : (
              <Section key={state} title={t(`outcome.visits.${state}`)} note={String(own.length)}>
                <ul className="card rows">
                  {own.map((visit) => (
                    <VisitRow key={visit.caseId} visit={visit} />
                  ))}
                </ul>
              </Section>
            );
          })}
          {total > items.length && (
            <p className="muted">{t('outcome.first_visits', { shown: items.length, total })}</p>
          )}
          <VisitDays schedule={schedule} />
        </>
      )}
    </Answer>
  );
}

function VisitRow({ visit }: { visit: DueVisit }) {
  const t = useTranslate();
  const format = useFormat();
  const today = useToday();
  const name = (code: string) => visitName({ t, format }, code);
  return (
    <li className="visit-row">
      <div>
        <CaseName of={{ id: visit.caseId, codeName: visit.codeName, eye: visit.eye }} />
        <p className="muted">
          {visit.clinic.name} · {t('outcome.operated', { day: format.date.day(visit.operatedOn, today) })}
        </p>
      </div>
      <div>
        <Pill tone={tones[visit.state]}>{name(visit.visit)}</Pill>{' '}
        {format.date.dayAndDistance(visit.dueOn, today)}
        {visit.missed.length > 0 && (
          <p className="muted">{t('outcome.missed', { visits: visit.missed.map(name).join(', ') })}</p>
        )}
      </div>
      <a className="button" href={`/cases/${visit.caseId}/measure`}>
        {t('outcome.enter_visit')}
      </a>
    </li>
  );
}
