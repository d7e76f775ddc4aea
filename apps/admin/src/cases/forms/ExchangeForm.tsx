import { useTranslate } from 'react-admin';
import { exchangeReasons, OpenExchange, type CaseDetail } from '@lensferry/contracts';
import { ExchangePicture } from '../../exchanges/ExchangePicture';
import { ContractForm } from '../../shared/forms/ContractForm';
import { SelectField, TextField } from '../../shared/forms/fields';
import { poorVault } from '../next-step';
import { useTellVault } from '../tell-after-surgery';
import type { CaseFormProps } from '../CaseDialogs';

/** Opens an exchange, with what this eye's own vault says of each size. */
export default function ExchangeForm({ of, close }: CaseFormProps) {
  const t = useTranslate();
  const tellVault = useTellVault();
  const check = poorVault(of);
  const reason = check?.band === 'high' ? 'vault_high' : check?.band === 'low' ? 'vault_low' : undefined;
  return (
    <ContractForm<CaseDetail>
      schema={OpenExchange}
      path={`/cases/${of.id}/exchange`}
      defaults={{ version: of.version, reason, note: '' }}
      answers="cases"
      done="exchange.opened"
      onDone={close}
      onCancel={close}
      submitLabel={t('exchange.open')}
    >
      {check && <p>{tellVault(check)}</p>}
      {of.proposal && <ExchangePicture proposal={of.proposal} />}
      <SelectField
        name="reason"
        label={t('exchange.why')}
        placeholder={t('form.pick')}
        choices={exchangeReasons.map((value) => ({ value, label: t(`exchange.reason.${value}`) }))}
      />
      <TextField name="note" label={t('exchange.note')} hint={t('exchange.note_hint')} long />
      <p className="muted small">{t('exchange.consequence')}</p>
    </ContractForm>
  );
}
