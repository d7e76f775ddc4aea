import { useRef, useState, type FormEvent } from 'react';
import type { CurrentSession } from '@lensferry/contracts';
import type { LocaleCode } from '../i18n/locale';
import { ApiProblem, request } from '../providers/request';
import { Brand } from './Brand';
import { CrossingPicture } from './CrossingPicture';
import { ShellField } from './ShellField';
import { words, type Words } from './words';

interface Props {
  locale: LocaleCode;
  ended: boolean;
  unreachable: boolean;
  onLocale: (locale: LocaleCode) => void;
  /** The answer is awaited. */
  onTry: () => void;
  /** Settles when what follows is shown. */
  onSignedIn: (session: CurrentSession) => Promise<void>;
}

function whatWentWrong(error: unknown, say: Words): string {
  if (!(error instanceof ApiProblem)) return say.unreachable;
  if (error.status === 401) return say.wrong;
  if (error.status === 429) return say.often;
  return error.problem?.errors?.[0]?.message ?? say.failed;
}

const isRefusal = (error: unknown): boolean => error instanceof ApiProblem && error.status === 401;

export function SignInPage({ locale, ended, unreachable, onLocale, onTry, onSignedIn }: Props) {
  const say = words[locale];
  const password = useRef<HTMLInputElement>(null);
  const [busy, setBusy] = useState(false);
  const [asksCode, setAsksCode] = useState(false);
  const [wrong, setWrong] = useState<string | null>(unreachable ? say.unreachable : null);
  const submit = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget);
    setBusy(true);
    setWrong(null);
    onTry();
    try {
      const code = form.get('code');
      const body = {
        email: form.get('email'),
        password: form.get('password'),
        ...(code ? { code } : {}),
      };
      await onSignedIn(await request<CurrentSession>('POST', '/session', body));
    } catch (error) {
      setBusy(false);
      if (error instanceof ApiProblem && error.problem?.code === 'session.code-needed')
        return setAsksCode(true);
      setWrong(asksCode && isRefusal(error) ? say.codeWrong : whatWentWrong(error, say));
      if (!asksCode) password.current?.select();
    }
  };
  return (
    <main className="shell">
      <div className="shell__brand brand">
        <Brand />
      </div>
      <CrossingPicture label={say.eye} />
      <form className="shell__card card card--padded form" onSubmit={submit} aria-labelledby="sign-in">
        <div>
          <h1 id="sign-in">{say.title}</h1>
          <p className="muted">{ended ? say.ended : say.lead}</p>
        </div>
        <ShellField label={say.email} name="email" type="email" autoComplete="username" autoFocus />
        <ShellField
          ref={password}
          label={say.password}
          name="password"
          type="password"
          autoComplete="current-password"
        />
        {asksCode && (
          <ShellField
            label={say.code}
            hint={say.codeHint}
            name="code"
            mono
            autoComplete="one-time-code"
            autoFocus
          />
        )}
        <p className="field__wrong" role="alert">
          {wrong}
        </p>
        <button className="button button--filled button--wide" disabled={busy}>
          {busy ? say.going : say.go}
        </button>
      </form>
      <p className="shell__foot">
        {say.caution}{' '}
        <button
          type="button"
          className="button button--text"
          lang={locale === 'en' ? 'de' : 'en'}
          onClick={() => onLocale(locale === 'en' ? 'de' : 'en')}
        >
          {say.language}
        </button>
      </p>
    </main>
  );
}
