import { useLocaleState, useLogout, useTranslate } from 'react-admin';
import { useState } from 'react';
import { locales } from '../i18n/locale';
import { useSession } from '../providers/session';
import { chooseMode, chosenMode, modes, type Mode } from '../theme/mode';
import { ChoiceRow } from '../shared/forms/ChoiceRow';

/** Who is signed in, where, and the few settings of this machine. */
export function AccountMenu() {
  const t = useTranslate();
  const { person } = useSession();
  const [open, setOpen] = useState(false);
  return (
    <details className="account" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>
        <span className="strong">{person.name}</span>
        <br />
        <span className="muted small">{t(`role.${person.role}`)}</span>
      </summary>
      {open && <AccountPanel />}
    </details>
  );
}

function AccountPanel() {
  const t = useTranslate();
  const { clinics } = useSession();
  const [locale, setLocale] = useLocaleState();
  const [mode, setMode] = useState<Mode>(chosenMode);
  const signOut = useLogout();
  return (
    <div className="account__panel">
      <p>
        <span className="muted">{t('frame.clinics')}</span>
        <br />
        {clinics.map(({ name }) => name).join(', ') || '–'}
      </p>
      <a className="button" href="/account">
        {t('account.title')}
      </a>
      <ChoiceRow
        legend={t('frame.language')}
        name="language"
        value={locale}
        choices={locales.map((one) => ({ value: one.locale, label: one.name }))}
        onChange={(wanted) => setLocale(wanted)}
      />
      <ChoiceRow
        legend={t('frame.mode')}
        name="mode"
        value={mode}
        choices={modes.map((one) => ({ value: one, label: t(`frame.modes.${one}`) }))}
        onChange={(wanted) => {
          chooseMode(wanted as Mode);
          setMode(wanted as Mode);
        }}
      />
      <button type="button" className="button" onClick={() => void signOut()}>
        {t('frame.sign_out')}
      </button>
    </div>
  );
}
