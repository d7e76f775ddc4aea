import { useMemo } from 'react';
import { useTranslate } from 'react-admin';
import type { OutcomeReport } from '@lensferry/contracts';
import { useRead } from '../providers/use-read';
import { useFormat } from '../shared/format/use-format';
import { Answer, Empty } from '../shared/parts/Answer';
import { Section } from '../shared/parts/Page';
import { Comparison } from './Comparison';
import { FigureCard } from './FigureCard';
import { figures as draw, reportParts } from './figure-registry';
import { Filters } from './Filters';
import { estimateText } from './say';
import { useFilters } from './use-filters';

/** The standard figures of the eyes that are asked for. */
export function ResultsPart() {
  const { query } = useFilters();
  const report = useRead<OutcomeReport>(`/outcomes${query}`);
  return (
    <>
      <Filters choices={report.data?.choices} />
      <Answer query={report}>{(found) => <Results report={found} query={query} />}</Answer>
    </>
  );
}

function Results({ report, query }: { report: OutcomeReport; query: string }) {
  const t = useTranslate();
  const format = useFormat();
  const { figures, references } = report;
  const drawn = useMemo(() => {
    const say = { t, format };
    return reportParts
      .map((part) => ({ part, of: draw[part](say, report) }))
      .filter(({ of }) => of.length > 0);
  }, [t, format, report]);
  if (figures.eyes === 0)
    return (
      <Empty title={t('outcome.none')}>
        <p>{t('outcome.none_hint', { smart_count: figures.tooEarly })}</p>
      </Empty>
    );
  const short = (figures.followUpDays?.min ?? 0) < references.followUpMonthsAtLeast * 29;
  return (
    <>
      <p>
        {t('outcome.summary', {
          smart_count: figures.eyes,
          patients: figures.patients,
          early: figures.tooEarly,
        })}{' '}
        {short && <b>{t('outcome.short_follow_up', { months: references.followUpMonthsAtLeast })}</b>}
      </p>
      <Indices figures={figures} />
      {drawn.map(({ part, of }) => (
        <Section key={part} title={t(`outcome.section.${part}`)}>
          <div className="figures">
            {of.map((figure) => (
              <FigureCard key={figure.id} figure={figure} />
            ))}
          </div>
        </Section>
      ))}
      <Comparison query={query} choices={report.choices} />
      <Section title={t('outcome.section.table')}>
        <p className="steps no-print">
          <a className="button" href={`/api/outcomes/eyes.csv${query}`} download>
            {t('outcome.keep_csv')}
          </a>
          <a className="button" href={`/api/outcomes/eyes.fhir${query}`} download>
            {t('outcome.keep_fhir')}
          </a>
          <a className="button button--text" href="/api/outcomes/eyes-dictionary.csv" download>
            {t('outcome.keep_dictionary')}
          </a>
        </p>
        <p className="muted">{t('outcome.csv_note')}</p>
        <p className="muted">{t('outcome.both_eyes')}</p>
      </Section>
    </>
  );
}

function Indices({ figures }: { figures: OutcomeReport['figures'] }) {
  const t = useTranslate();
  const format = useFormat();
  const all = [
    ['safety', figures.safetyIndex],
    ['efficacy', figures.efficacyIndex],
    ['correction', figures.correctionIndex],
    ['success', figures.successIndex],
  ] as const;
  return (
    <dl className="facts card card--padded">
      {all.map(([name, index]) => (
        <div key={name} className="outcome-index">
          <dt>{t(`outcome.index.${name}`)}</dt>
          <dd>
            {index === null ? t('outcome.finding.too_few') : estimateText({ t, format }, index)}{' '}
            <span className="muted">{t(`outcome.index_note.${name}`)}</span>
          </dd>
        </div>
      ))}
    </dl>
  );
}
