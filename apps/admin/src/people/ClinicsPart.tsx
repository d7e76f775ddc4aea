import { useTranslate } from 'react-admin';
import { AddClinic, type AddedClinic } from '@lensferry/contracts';
import { ContractForm } from '../shared/forms/ContractForm';
import { TextField } from '../shared/forms/fields';
import { Section } from '../shared/parts/Page';

/** An administrator adds a clinic to the network, and belongs to it from then on. */
export function ClinicsPart() {
  const t = useTranslate();
  return (
    <Section title={t('people.add_clinic')} note={t('people.add_clinic_note')}>
      <div className="card card--padded form person-form">
        <ContractForm<AddedClinic>
          schema={AddClinic}
          path="/clinics"
          defaults={{
            code: '',
            name: '',
            timeZone: Intl.DateTimeFormat().resolvedOptions().timeZone,
            holidays: [],
          }}
          done="people.clinic_added"
          // The session says at which clinics somebody works, so everything begins anew with the new one in it.
          onDone={() => location.reload()}
          submitLabel={t('people.add_clinic')}
        >
          <TextField name="name" label={t('people.clinic_name')} />
          <TextField name="code" label={t('people.clinic_code')} hint={t('people.clinic_code_hint')} mono />
          <TextField name="timeZone" label={t('people.clinic_zone')} hint={t('people.clinic_zone_hint')} />
        </ContractForm>
      </div>
    </Section>
  );
}
