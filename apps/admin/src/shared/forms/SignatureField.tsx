import { useTranslate } from 'react-admin';
import { TextField } from './fields';

/** The password once more: it signs, in the person's name, what the form around it says. */
export function SignatureField({ autoFocus = false }: { autoFocus?: boolean }) {
  const t = useTranslate();
  return (
    <TextField
      name="password"
      label={t('sign.password')}
      hint={t('sign.password_hint')}
      type="password"
      autoComplete="current-password"
      autoFocus={autoFocus}
    />
  );
}
