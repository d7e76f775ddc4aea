import { useEffect, useState, type FormEvent } from 'react';
import type { InvitationShown } from '@lensferry/contracts';
import type { LocaleCode } from '../i18n/locale';
import { ApiProblem, request } from '../providers/request';
import { Secret } from '../shared/forms/Secret';
import { Brand } from './Brand';
import { words } from './words';

interface Props {
  locale: LocaleCode;
  token: string;
  onDone: () => void;
}

/** Somebody follows a one-time link and chooses a password. */
export function JoinPage({ locale, token, onDone }: Props) {
  const say = words[locale];
  const [shown, setShown] = useState<InvitationShown | null>(null);
  const [wrong, setWrong] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const fail = (error: unknown) =>
    setWrong(error instanceof ApiProblem ? (error.problem?.detail ?? say.failed) : say.unreachable);
  useEffect(() => {
    request<InvitationShown>('POST', '/invitations/look', { token }).then(setShown, fail);
  }, [token]);
  const submit = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget);
    if (form.get('password') !== form.get('again')) return setWrong(say.unlike);
    setBusy(true);
    setWrong(null);
    try {
      await request('POST', '/invitations/accept', { token, newPassword: form.get('password') });
      onDone();
    } catch (error) {
      fail(error);
      setBusy(false);
    }
  };
  return (
    <main className="shell">
      <div className="shell__brand brand">
        <Brand />
      </div>
      <form className="shell__card card card--padded form" onSubmit={submit} aria-labelledby="join">
        <div>
          <h1 id="join">{say.join}</h1>
          <p className="muted">{shown === null ? say.joinLook : `${shown.name}, ${shown.email}`}</p>
        </div>
        {shown !== null && (
          <>
            <input type="hidden" name="username" autoComplete="username" value={shown.email} readOnly />
            <Secret name="password" label={say.newPassword} />
            <Secret name="again" label={say.again2} />
          </>
        )}
        <p className="field__wrong" role="alert">
          {wrong}
        </p>
        {shown !== null && (
          <button className="button button--filled button--wide" disabled={busy}>
            {say.keep}
          </button>
        )}
      </form>
    </main>
  );
}
