import { VisitSchedule, type DueVisits } from '@lensferry/contracts';
import { useState } from 'react';
import { useTranslate } from 'react-admin';
import type { FieldValues } from 'react-hook-form';
import { useMay } from '../providers/session';
import { ContractForm } from '../shared/forms/ContractForm';
import { TextField } from '../shared/forms/fields';
import { useFormat } from '../shared/format/use-format';
import { Section } from '../shared/parts/Page';
import { readVisitDays } from './read-visit-days';
import { visitName } from './refraction-figures';

const shape = (values: FieldValues): unknown => ({
  ...values,
  visitDays: readVisitDays(String(values['visitDays'])),
});

/** The network's visits of follow-up; an administrator changes them, with a reason that is kept. */
export function VisitDays({ schedule }: Pick<DueVisits, 'schedule'>) {
  const t = useTranslate();
  const format = useFormat();
  const mayEdit = useMay('visits.schedule');
  const [editing, setEditing] = useState(false);
  const was = schedule.map(({ day }) => day);
  return (
    <Section title={t('outcome.schedule.title')} note={t('outcome.schedule.note')}>
      <div className="card card--padded form">
        <p>
          {schedule
            .map(({ code, day }) =>
              t('outcome.schedule.visit', { name: visitName({ t, format }, code), day }),
            )
            .join(' · ')}
        </p>
        <p className="muted">{t('outcome.schedule.yearly')}</p>
        {mayEdit && !editing && (
          <div className="form__actions">
            <button type="button" className="button" onClick={() => setEditing(true)}>
              {t('outcome.schedule.edit')}
            </button>
          </div>
        )}
        {editing && (
          <ContractForm
            schema={VisitSchedule}
            shape={shape}
            path="/outcomes/visit-schedule"
            defaults={{ was, visitDays: was.join(', '), why: '' }}
            done="outcome.schedule.saved"
            submitLabel={t('outcome.schedule.save')}
            onDone={() => setEditing(false)}
            onCancel={() => setEditing(false)}
          >
            <TextField
              name="visitDays"
              label={t('outcome.schedule.days')}
              hint={t('outcome.schedule.days_hint')}
            />
            <TextField name="why" label={t('outcome.schedule.why')} long />
            <p className="muted small">{t('outcome.schedule.consequence')}</p>
          </ContractForm>
        )}
      </div>
    </Section>
  );
}
