import { useTranslate } from 'react-admin';
import { ScheduleTheatre, type CaseDetail } from '@lensferry/contracts';
import { ContractForm } from '../../shared/forms/ContractForm';
import { DateField } from '../../shared/forms/fields';
import { useFormat, useToday } from '../../shared/format/use-format';
import type { CaseFormProps } from '../CaseDialogs';
import { presentOrder } from '../next-step';

/** The theatre date, with what is known of the lens's arrival beside it. */
export default function ScheduleForm({ of, close }: CaseFormProps) {
  const t = useTranslate();
  const format = useFormat();
  const today = useToday(of.clinic.timeZone);
  const forecast = presentOrder(of)?.forecast;
  return (
    <ContractForm<CaseDetail>
      schema={ScheduleTheatre}
      path={`/cases/${of.id}/theatre-date`}
      defaults={{ version: of.version, theatreOn: of.theatreOn ?? undefined }}
      answers="cases"
      done="case.scheduled"
      onDone={close}
      onCancel={close}
      submitLabel={t('step.case.schedule')}
    >
      {forecast && (
        <p className="note">
          {t('order.arrives_between', {
            from: format.date.day(forecast.p10, today),
            to: format.date.day(forecast.p90, today),
            middle: format.date.day(forecast.p50, today),
          })}
        </p>
      )}
      <DateField name="theatreOn" label={t('case.theatre_date')} min={today} />
    </ContractForm>
  );
}
