import { lazy, Suspense, useEffect, useState } from 'react';
import type { CurrentSession } from '@lensferry/contracts';
import { setClock } from '../providers/clock';
import { ApiProblem, request } from '../providers/request';
import { dictionaryOf } from '../i18n/dictionary';
import { chosenLocale, keepLocale } from '../i18n/locale';
import { JoinPage } from './JoinPage';
import { LoadGuard } from './LoadGuard';
import { SignInPage } from './SignInPage';
import { Waiting } from './Waiting';

const AdminApp = lazy(() => import('../AdminApp'));

/** Set while somebody may be signed in here; without it there is no session to ask for. */
const WAS_HERE = 'lensferry.was-here';

/** The token of a one-time link stands after the #, so that no server ever logs it. */
const joinToken = (): string | null => /^#join=([\w-]{20,100})$/.exec(location.hash)?.[1] ?? null;

type State = { session: CurrentSession } | { ended: boolean; unreachable?: boolean } | null;

/** Decides between signing in and the admin; the admin is loaded only for somebody who is signed in. */
export function Shell() {
  const [state, setState] = useState<State>(null);
  const [locale, setLocale] = useState(chosenLocale);
  const [joining, setJoining] = useState(joinToken);
  const open = (session: CurrentSession) => {
    localStorage.setItem(WAS_HERE, '1');
    setClock(session.now);
    setState({ session });
  };
  useEffect(() => keepLocale(locale), [locale]);
  useEffect(() => {
    if (localStorage.getItem(WAS_HERE) === null) return setState({ ended: false });
    // Most likely the session still holds: the admin and its words come along while that is asked.
    void import('../AdminApp').catch(() => undefined);
    void dictionaryOf(locale).catch(() => undefined);
    request<CurrentSession>('GET', '/session').then(open, (error: unknown) =>
      setState({ ended: false, unreachable: !(error instanceof ApiProblem) }),
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
  if (state === null) return <Waiting locale={locale} />;
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
  return (
    <LoadGuard locale={locale}>
      <Suspense fallback={<Waiting locale={locale} />}>
        <AdminApp session={state.session} locale={locale} leave={leave} />
      </Suspense>
    </LoadGuard>
  );
}
