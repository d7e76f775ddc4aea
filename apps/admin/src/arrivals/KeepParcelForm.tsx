import { useTranslate } from 'react-admin';
import { KeepParcel, type LabelEntry, type UnexpectedParcel } from '@lensferry/contracts';
import { useSession } from '../providers/session';
import { ClinicField } from '../shared/forms/ClinicField';
import { ContractForm } from '../shared/forms/ContractForm';
import { TextField } from '../shared/forms/fields';

/** For a parcel that no order waits for: kept apart and noted, with what was read off it. */
export function KeepParcelForm({ label, onDone }: { label: LabelEntry; onDone: () => void }) {
  const t = useTranslate();
  const { clinics } = useSession();
  return (
    <section className="card card--padded form" aria-labelledby="nobody">
      <h2 id="nobody">{t('arrival.nobody')}</h2>
      <p>{t('arrival.nobody_lead')}</p>
      <ContractForm<UnexpectedParcel>
        schema={KeepParcel}
        path="/parcels"
        defaults={{ label, location: '', note: '', clinicId: clinics[0]?.id ?? '' }}
        done="arrival.kept"
        onDone={onDone}
        submitLabel={t('arrival.keep')}
      >
        <ClinicField />
        <TextField name="location" label={t('arrival.quarantine_place')} hint={t('arrival.place_hint')} />
        <TextField name="note" label={t('arrival.note')} long />
      </ContractForm>
    </section>
  );
}
