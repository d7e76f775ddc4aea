import { useTranslate } from 'react-admin';
import { useWatch } from 'react-hook-form';
import { channels } from '@lensferry/contracts';
import { ChoiceField, NumberField, TextField } from '../shared/forms/fields';

/** How a maker is reached: the channel, and what that channel needs. */
export function ReachFields() {
  const t = useTranslate();
  const channel = useWatch({ name: 'channel' }) as string | undefined;
  return (
    <>
      <ChoiceField
        name="channel"
        label={t('maker.reached')}
        choices={channels.map((value) => ({ value, label: t(`maker.channel.${value}`) }))}
      />
      {channel === 'https' && (
        <TextField name="endpoint" label={t('maker.endpoint')} hint={t('maker.endpoint_hint')} mono />
      )}
      {channel === 'email' && <TextField name="orderEmail" label={t('maker.order_email')} mono />}
      {channel === 'by_hand' && <p className="note">{t('maker.by_hand_note')}</p>}
      {(channel === 'https' || channel === 'email') && (
        <NumberField name="sendsPerMinute" label={t('maker.sends')} hint={t('maker.sends_hint')} />
      )}
    </>
  );
}

/** What is agreed with a maker: its hours and holidays, money, return window and terms. */
export function AgreedFields() {
  const t = useTranslate();
  return (
    <>
      <TextField name="contact" label={t('maker.contact')} />
      <TextField name="currency" label={t('maker.currency')} mono />
      <NumberField name="returnWindowDays" label={t('maker.return_days')} />
      <TextField name="timeZone" label={t('maker.zone')} hint={t('maker.zone_hint')} mono />
      <TextField name="cutOff" label={t('maker.cut_off')} hint={t('maker.cut_off_hint')} mono />
      <TextField name="holidays" label={t('maker.holidays')} hint={t('maker.holidays_hint')} long mono />
      <TextField name="terms" label={t('maker.terms')} long />
      <TextField name="address" label={t('maker.address')} hint={t('maker.address_hint')} long />
      <TextField name="website" label={t('maker.website')} mono />
    </>
  );
}
