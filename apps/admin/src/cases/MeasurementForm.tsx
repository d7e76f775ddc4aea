import { useEffect, useRef } from 'react';
import { useNotify, useTranslate } from 'react-admin';
import { useNavigate } from 'react-router-dom';
import {
  MeasurementCorrection,
  MeasurementInput,
  type CaseDetail,
  type Measurement,
} from '@lensferry/contracts';
import type { MeasurementKind } from '@lensferry/domain';
import { ContractForm } from '../shared/forms/ContractForm';
import { TextField } from '../shared/forms/fields';
import { useToday } from '../shared/format/use-format';
import { MeasurementFields } from './MeasurementFields';

/** Enters one kind of measurement, or corrects one; then goes on to what a plan needs next. */
export function MeasurementForm({
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
  const heading = useRef<HTMLHeadingElement>(null);
  // The form before this one took the focus with it; the next Tab leads into this one.
  useEffect(() => {
    if (document.activeElement === document.body) heading.current?.focus();
  }, []);
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
      <h2 ref={heading} tabIndex={-1}>
        {wrong ? t('measure.correcting', { kind: t(`kind.${kind}`) }) : t(`kind.${kind}`)}
      </h2>
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
