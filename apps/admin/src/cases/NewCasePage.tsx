import { useState } from 'react';
import { useTranslate } from 'react-admin';
import { useNavigate } from 'react-router-dom';
import { eyes } from '@lensferry/domain';
import { OpenCase, type CaseDetail, type PersonSummary } from '@lensferry/contracts';
import { useSession } from '../providers/session';
import { useRead } from '../providers/use-read';
import { ContractForm } from '../shared/forms/ContractForm';
import { ChoiceField, DateField, NumberField, SelectField, TextField } from '../shared/forms/fields';
import { Answer } from '../shared/parts/Answer';
import { Page, Section } from '../shared/parts/Page';
import './case.css';

/** Opens a case: one eye under a code name; the identity is sealed apart, and may come later. */
export function NewCasePage() {
  const t = useTranslate();
  const people = useRead<{ items: PersonSummary[] }>('/people?state=surgeon&sort=code&perPage=200');
  return (
    <Page title={t('case.open')} lead={t('case.open_lead')}>
      <Answer query={people}>{({ items }) => <NewCaseForm people={items} />}</Answer>
    </Page>
  );
}

function NewCaseForm({ people }: { people: readonly PersonSummary[] }) {
  const t = useTranslate();
  const navigate = useNavigate();
  const { clinics, person } = useSession();
  const [withIdentity, setWithIdentity] = useState(false);
  const surgeons = people.filter(({ active }) => active);
  const mine = person.role === 'surgeon' ? person.id : surgeons.length === 1 ? surgeons[0]?.id : undefined;
  return (
    <div className="card card--padded measure">
      <ContractForm<CaseDetail>
        schema={OpenCase}
        path="/cases"
        defaults={{ clinicId: clinics.length === 1 ? clinics[0]?.id : undefined, surgeonId: mine }}
        answers="cases"
        done="case.opened"
        onDone={(opened) => navigate(`/cases/${opened.id}/measure`)}
        onCancel={() => navigate('/cases')}
        submitLabel={t('case.open')}
      >
        <ChoiceField
          name="eye"
          label={t('case.eye')}
          choices={eyes.map((value) => ({ value, label: t(`eye.${value}`) }))}
        />
        <div className="form__row">
          <TextField name="codeName" label={t('case.code_name')} hint={t('case.code_name_hint')} />
          <NumberField name="birthYear" label={t('case.birth_year')} />
        </div>
        <div className="form__row">
          <SelectField
            name="clinicId"
            label={t('case.clinic')}
            placeholder={t('form.pick')}
            choices={clinics.map(({ id, name }) => ({ value: id, label: name }))}
          />
          <SelectField
            name="surgeonId"
            label={t('case.surgeon')}
            placeholder={t('form.pick')}
            choices={surgeons.map(({ id, name }) => ({ value: id, label: name }))}
          />
        </div>
        {withIdentity ? (
          <Section title={t('identity.title')} note={t('identity.note')}>
            <div className="form">
              <TextField name="identity.name" label={t('identity.name')} />
              <div className="form__row">
                <DateField name="identity.birthDate" label={t('identity.birth_date')} />
                <TextField name="identity.recordNumber" label={t('identity.record_number')} mono />
              </div>
            </div>
          </Section>
        ) : (
          <button type="button" className="button button--text" onClick={() => setWithIdentity(true)}>
            {t('identity.add')}
          </button>
        )}
      </ContractForm>
    </div>
  );
}
