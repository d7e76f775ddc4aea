import { useTranslate } from 'react-admin';
import { useSession } from '../../providers/session';
import { SelectField } from './fields';

/** Which of one's clinics something is for; nothing to choose for whoever works at one. */
export function ClinicField() {
  const t = useTranslate();
  const { clinics } = useSession();
  if (clinics.length < 2) return null;
  return (
    <SelectField
      name="clinicId"
      label={t('arrival.clinic')}
      placeholder={t('arrival.clinic')}
      choices={clinics.map(({ id, name }) => ({ value: id, label: name }))}
    />
  );
}
