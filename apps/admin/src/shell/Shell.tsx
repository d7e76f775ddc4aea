import { useEffect, useState } from 'react';
import type { CurrentSession } from '@lensferry/contracts';
import { setClock } from '../providers/clock';
import { ApiProblem, request } from '../providers/request';
import { chosenLocale, keepLocale } from '../i18n/locale';
import { bringAdmin, type Admin } from './bring-admin';
import { JoinPage } from './JoinPage';
import { LoadGuard, Outdated } from './LoadGuard';
import { SignInPage } from './SignInPage';
import { Waiting } from './Waiting';

/** Set while somebody may be signed in here; without it there is no session to ask for. */
const WAS_HERE = 'lensferry.was-here';

/** The token of a one-time link stands after the #, so that no server ever logs it. */
const joinToken = (): string | null => /^#join=([\w-]{20,100})$/.exec(location.hash)?.[1] ?? null;

type State =
  | 'waiting'
  | 'outdated'
  | { session: CurrentSession; admin: Admin }
  | { ended: boolean; unreachable?: boolean };

/** Decides between signing in and the admin; the admin is loaded only for somebody who is signed in. */
export function Shell() {
  const [state, setState] = useState<State>('waiting');
  const [locale, setLocale] = useState(chosenLocale);
  const [joining, setJoining] = useState(joinToken);
  /** Everything is there before the admin is shown, so that it is shown once and whole. */
  const open = async (session: CurrentSession, bringing = bringAdmin(locale)) => {
    localStorage.setItem(WAS_HERE, '1');
    setClock(session.now);
    setState(
      await bringing.then(
        (admin) => ({ session, admin }),
        () => 'outdated' as const,
      ),
    );
  };
  useEffect(() => keepLocale(locale), [locale]);
  useEffect(() => {
    if (localStorage.getItem(WAS_HERE) === null) return setState({ ended: false });
    // Most likely the session still holds: the admin comes along while that is asked.
    const asking = request<CurrentSession>('GET', '/session');
    const bringing = bringAdmin(locale);
    bringing.catch(() => undefined);
    asking.then(
      (session) => open(session, bringing),
      (error: unknown) => setState({ ended: false, unreachable: !(error instanceof ApiProblem) }),
    );
  }, []);
  if (joining !== null) {
    const joined = () => {
      history.replaceState(null, '', '/');
      setJoining(null);
      setState({ ended: false });
    };
    return <JoinPage locale={locale} token={joining} onDone={joined} />;
  }
  if (state === 'waiting') return <Waiting locale={locale} />;
  if (state === 'outdated') return <Outdated locale={locale} />;
  if (!('session' in state))
    return (
      <SignInPage
        locale={locale}
        ended={state.ended}
        unreachable={state.unreachable ?? false}
        onLocale={setLocale}
        onSignedIn={open}
      />
    );
  const leave = () => {
    localStorage.removeItem(WAS_HERE);
    setLocale(chosenLocale());
    setState({ ended: true });
  };
  const { App, messages } = state.admin;
  return (
    <LoadGuard locale={locale}>
      <App session={state.session} locale={locale} messages={messages} leave={leave} />
    </LoadGuard>
  );
}
