import { useTranslate } from 'react-admin';
import { measurementKindNames, type MeasurementKind } from '@lensferry/domain';
import type { CaseDetail, Measurement } from '@lensferry/contracts';
import { Empty } from '../shared/parts/Answer';
import { Pill } from '../shared/parts/Pill';
import { Section } from '../shared/parts/Page';
import { When } from '../shared/parts/When';
import { MeasurementValues } from './MeasurementValues';
import { TrendPicture } from './TrendPicture';
import { trendsOf } from './trends';

/** Everything that was measured: how it went over time, then each reading by kind. */
export function MeasurementsPart({ of }: { of: CaseDetail }) {
  const t = useTranslate();
  const mayMeasure = of.actions.includes('measure');
  const add = (kind?: MeasurementKind) => `/cases/${of.id}/measure${kind ? `?kind=${kind}` : ''}`;
  if (of.measurements.length === 0)
    return (
      <Empty title={t('measure.none')}>
        {mayMeasure && (
          <a className="button button--filled" href={add()}>
            {t('step.case.measure')}
          </a>
        )}
      </Empty>
    );
  const trends = trendsOf(of.measurements);
  return (
    <>
      {trends.length > 0 && (
        <Section title={t('measure.trends')} note={t('measure.trends_note')}>
          <div className="trends">
            {trends.map((trend) => (
              <TrendPicture key={trend.name} title={t(`field.${trend.name}`)} {...trend} />
            ))}
          </div>
        </Section>
      )}
      {measurementKindNames.map((kind) => {
        const readings = of.measurements.filter((one) => one.kind === kind).reverse();
        if (readings.length === 0) return null;
        return (
          <Section
            key={kind}
            title={t(`kind.${kind}`)}
            aside={mayMeasure && <a href={add(kind)}>{t('measure.add_one')}</a>}
          >
            <ul className="card card--padded form">
              {readings.map((reading) => (
                <Reading key={reading.id} of={of} reading={reading} mayMeasure={mayMeasure} />
              ))}
            </ul>
          </Section>
        );
      })}
    </>
  );
}

function Reading({ of, reading, mayMeasure }: { of: CaseDetail; reading: Measurement; mayMeasure: boolean }) {
  const t = useTranslate();
  return (
    <li className={reading.corrected ? 'reading reading--corrected' : 'reading'}>
      <MeasurementValues measurement={reading} />
      <p className="muted small">
        <When date={reading.takenOn} zone={of.clinic.timeZone} /> · {reading.device} · {reading.observer}
        {reading.why && ` · ${t('measure.correction', { why: reading.why })}`}
      </p>
      {reading.corrected && <Pill tone="amber">{t('measure.corrected')}</Pill>}
      {!reading.corrected && mayMeasure && (
        <a className="small no-print" href={`/cases/${of.id}/measure?correct=${reading.id}`}>
          {t('measure.correct')}
        </a>
      )}
    </li>
  );
}
