import { useTranslate } from 'react-admin';
import { EraseIdentity, type CaseDetail } from '@lensferry/contracts';
import { ContractForm } from '../../shared/forms/ContractForm';
import { TextField } from '../../shared/forms/fields';
import { SignatureField } from '../../shared/forms/SignatureField';
import type { CaseFormProps } from '../CaseDialogs';

/** Erasing who the patient is: what goes, what stays, a reason and the password once more. */
export default function EraseForm({ of, close }: CaseFormProps) {
  const t = useTranslate();
  return (
    <ContractForm<CaseDetail>
      schema={EraseIdentity}
      path={`/cases/${of.id}/erase-identity`}
      defaults={{ why: '', password: '' }}
      answers="cases"
      done="identity.erased"
      onDone={close}
      onCancel={close}
      grave
      submitLabel={t('step.case.erase-identity')}
    >
      <p>{t('identity.erase')}</p>
      <TextField name="why" label={t('identity.erase_why')} hint={t('identity.erase_hint')} long autoFocus />
      <SignatureField />
    </ContractForm>
  );
}
