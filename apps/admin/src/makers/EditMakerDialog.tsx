import { useTranslate } from 'react-admin';
import { EditMaker, type MakerSummary } from '@lensferry/contracts';
import { ContractForm } from '../shared/forms/ContractForm';
import { NumberField, TextField } from '../shared/forms/fields';
import { Dialog } from '../shared/parts/Dialog';

/** What an administrator changes of a maker: how it is reached, its hours, money, return window and terms. */
export function EditMakerDialog({ maker, onClose }: { maker: MakerSummary; onClose: () => void }) {
  const t = useTranslate();
  const { version, contact, currency, returnWindowDays, timeZone, cutOff, holidays, terms } = maker;
  return (
    <Dialog title={t('maker.edit')} onClose={onClose}>
      <ContractForm<MakerSummary>
        schema={EditMaker}
        path={`/makers/${maker.id}/edit`}
        defaults={{
          version,
          contact,
          currency,
          returnWindowDays,
          timeZone,
          cutOff: cutOff ?? '',
          holidays,
          terms: terms ?? '',
        }}
        shape={(values) => ({
          ...values,
          cutOff: String(values['cutOff'] ?? '').trim() || null,
          terms: String(values['terms'] ?? '').trim() || null,
        })}
        done="maker.edited"
        submitLabel={t('maker.edit')}
        onCancel={onClose}
        onDone={onClose}
      >
        <p>{t('maker.edit_consequence')}</p>
        <TextField name="contact" label={t('maker.contact')} />
        <TextField name="currency" label={t('maker.currency')} mono />
        <NumberField name="returnWindowDays" label={t('maker.return_days')} />
        <TextField name="timeZone" label={t('maker.zone')} mono />
        <TextField name="cutOff" label={t('maker.cut_off')} hint={t('maker.cut_off_hint')} mono />
        <TextField name="terms" label={t('maker.terms')} long />
      </ContractForm>
    </Dialog>
  );
}
