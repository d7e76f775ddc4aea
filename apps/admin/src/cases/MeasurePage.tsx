import { useGetOne, useNotify, useTranslate } from 'react-admin';
import { Link, useNavigate, useParams, useSearchParams } from 'react-router-dom';
import {
  MeasurementCorrection,
  MeasurementInput,
  type CaseDetail,
  type Measurement,
} from '@lensferry/contracts';
import { measurementKindNames, type MeasurementKind } from '@lensferry/domain';
import { ContractForm } from '../shared/forms/ContractForm';
import { TextField } from '../shared/forms/fields';
import { useToday } from '../shared/format/use-format';
import { Answer } from '../shared/parts/Answer';
import { Page } from '../shared/parts/Page';
import { MeasurementFields } from './MeasurementFields';
import './case.css';

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
      actions={of && <Link to={`/cases/${of.id}/measurements`}>{t('common.back_to_case')}</Link>}
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
            <Link
              key={kind}
              className="tabs__tab"
              replace
              to={`?kind=${kind}`}
              aria-current={kind === asked ? 'page' : undefined}
            >
              {t(`kind.${kind}`)}
              {of.missing.includes(kind) && (
                <span className="measure__missing"> · {t('measure.needed')}</span>
              )}
            </Link>
          ))}
        </nav>
      )}
      <MeasurementForm key={asked + of.measurements.length} of={of} kind={asked} wrong={wrong} />
    </>
  );
}

function MeasurementForm({
  of,
  kind,
  wrong,
}: {
  of: CaseDetail;
  kind: MeasurementKind;
  wrong: Measurement | undefined;
}) {
  const t = useTranslate();
  const navigate = useNavigate();
  const notify = useNotify();
  const today = useToday(of.clinic.timeZone);
  const last = of.measurements.filter((one) => one.kind === kind).at(-1);
  const measurement = wrong
    ? {
        kind,
        takenOn: wrong.takenOn,
        device: wrong.device,
        values: Object.fromEntries(Object.entries(wrong.values).filter(([, value]) => value !== null)),
      }
    : { kind, takenOn: today, device: last?.device ?? '', values: {} };
  const onDone = (answer: CaseDetail) => {
    const next = answer.missing[0];
    notify(next && !wrong ? 'measure.saved_next' : 'measure.saved', {
      type: 'success',
      messageArgs: { next: next ? t(`kind.${next}`) : '' },
    });
    navigate(next && !wrong ? `?kind=${next}` : `/cases/${of.id}/measurements`, { replace: true });
  };
  return (
    <div className="card card--padded measure">
      <h2>{wrong ? t('measure.correcting', { kind: t(`kind.${kind}`) }) : t(`kind.${kind}`)}</h2>
      <p className="muted">{t(`measure.hint.${kind}`)}</p>
      <ContractForm<CaseDetail>
        schema={wrong ? MeasurementCorrection : MeasurementInput}
        path={wrong ? `/cases/${of.id}/measurements/${wrong.id}/correction` : `/cases/${of.id}/measurements`}
        defaults={wrong ? { measurement, why: '' } : measurement}
        answers="cases"
        onDone={onDone}
        onCancel={() => navigate(`/cases/${of.id}/measurements`)}
        submitLabel={t(wrong ? 'measure.keep_correction' : 'measure.save')}
      >
        <MeasurementFields kind={kind} prefix={wrong ? 'measurement.' : ''} today={today} />
        {wrong && <TextField name="why" label={t('measure.why_wrong')} long />}
      </ContractForm>
    </div>
  );
}
