import { useState } from 'react';
import { useTranslate } from 'react-admin';
import type { RecoveryCodes, SecondFactorOffer } from '@lensferry/contracts';
import { request } from '../providers/request';
import { useSession } from '../providers/session';
import { Secret } from '../shared/forms/Secret';
import { PlainForm } from './PlainForm';
import { QrCode } from './QrCode';

/** Sets the second factor up in two steps, shows the recovery codes once, or turns it off. */
export function SecondFactor() {
  const t = useTranslate();
  const { secondFactor } = useSession();
  const [offer, setOffer] = useState<SecondFactorOffer | null>(null);
  const [codes, setCodes] = useState<readonly string[] | null>(null);
  if (codes !== null) return <Codes codes={codes} />;
  if (offer !== null)
    return (
      <PlainForm
        label={t('account.confirm')}
        act={async (form) => {
          const body = { code: String(form.get('code')).trim() };
          setCodes((await request<RecoveryCodes>('POST', '/account/second-factor/confirm', body)).codes);
        }}
      >
        <p>{t('account.scan')}</p>
        <QrCode rows={offer.qrRows} label={t('account.qr')} />
        <p className="muted small">
          {t('account.by_hand')} <span className="mono wraps">{offer.secret}</span>
        </p>
        <label className="field">
          <span className="field__label">{t('account.code')}</span>
          <span className="field__box">
            <input
              className="field__input mono"
              name="code"
              inputMode="numeric"
              autoComplete="one-time-code"
              required
            />
          </span>
        </label>
      </PlainForm>
    );
  const on = secondFactor === 'on';
  return (
    <PlainForm
      label={t(on ? 'account.remove' : 'account.set_up')}
      act={async (form) => {
        const body = { password: form.get('password') };
        if (!on) return setOffer(await request<SecondFactorOffer>('POST', '/account/second-factor', body));
        await request('POST', '/account/second-factor/remove', body);
        location.reload();
      }}
    >
      <p>{t(`account.factor_${on ? 'on' : 'off'}`)}</p>
      <Secret name="password" label={t('sign.password')} now />
    </PlainForm>
  );
}

function Codes({ codes }: { codes: readonly string[] }) {
  const t = useTranslate();
  return (
    <div className="form">
      <p className="note note--amber">{t('account.codes')}</p>
      <ul className="mono">
        {codes.map((code) => (
          <li key={code}>{code}</li>
        ))}
      </ul>
      <button type="button" className="button button--filled" onClick={() => location.reload()}>
        {t('account.kept')}
      </button>
    </div>
  );
}
