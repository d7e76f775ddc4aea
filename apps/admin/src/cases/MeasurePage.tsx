import { useGetOne, useTranslate } from 'react-admin';
import { useParams, useSearchParams } from 'react-router-dom';
import type { CaseDetail } from '@lensferry/contracts';
import { measurementKindNames, type MeasurementKind } from '@lensferry/domain';
import type { Asks } from '../providers/ask-ahead';
import { Answer } from '../shared/parts/Answer';
import { Page } from '../shared/parts/Page';
import { MeasurementForm } from './MeasurementForm';
import './case.css';

export const asks = { record: 'cases' } satisfies Asks;

/** Enters a measurement, or corrects one; the form is drawn from the domain's table of what can be measured. */
export function MeasurePage() {
  const t = useTranslate();
  const { id = '' } = useParams();
  const query = useGetOne<CaseDetail>('cases', { id });
  const of = query.data;
  const title = of
    ? t('measure.title', { name: `${of.codeName} · ${t(`eye.${of.eye}`)}` })
    : t('step.case.measure');
  const missing = of?.missing.map((kind) => t(`kind.${kind}`)).join(', ');
  return (
    <Page
      title={title}
      lead={of && (missing ? t('measure.missing', { missing }) : t('measure.complete'))}
      actions={of && <a href={`/cases/${of.id}/measurements`}>{t('common.back_to_case')}</a>}
    >
      <Answer query={query}>{(loaded) => <Measure of={loaded} />}</Answer>
    </Page>
  );
}

function Measure({ of }: { of: CaseDetail }) {
  const t = useTranslate();
  const [search] = useSearchParams();
  const wrong = of.measurements.find(({ id }) => id === search.get('correct'));
  const asked = (wrong?.kind ?? search.get('kind') ?? of.missing[0] ?? 'refraction') as MeasurementKind;
  return (
    <>
      {!wrong && (
        <nav className="tabs" aria-label={t('measure.kinds')}>
          {measurementKindNames.map((kind) => (
            <a
              key={kind}
              className="tabs__tab"
              data-replace
              href={`?kind=${kind}`}
              aria-current={kind === asked ? 'page' : undefined}
            >
              {t(`kind.${kind}`)}
              {of.missing.includes(kind) && (
                <span className="measure__missing"> · {t('measure.needed')}</span>
              )}
            </a>
          ))}
        </nav>
      )}
      <MeasurementForm key={asked + of.measurements.length} of={of} kind={asked} wrong={wrong} />
    </>
  );
}
