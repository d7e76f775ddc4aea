import { useEffect, useState } from 'react';
import type { CurrentSession } from '@lensferry/contracts';
import { setClock } from '../providers/clock';
import type { Prepared } from '../providers/prepare';
import { ApiProblem } from '../providers/request';
import { chosenLocale, keepLocale } from '../i18n/locale';
import { bringAdmin, type Admin } from './bring-admin';
import { JoinPage } from './JoinPage';
import { LoadGuard, Outdated } from './LoadGuard';
import { forgetHere, noteHere, type Opening } from './opening';
import { SignInPage } from './SignInPage';
import { Waiting } from './Waiting';

/** The token of a one-time link stands after the #, so that no server ever logs it. */
const joinToken = (): string | null => /^#join=([\w-]{20,100})$/.exec(location.hash)?.[1] ?? null;

type State =
  | 'waiting'
  | 'outdated'
  | { session: CurrentSession; App: Admin['App']; prepared: Prepared }
  | { ended: boolean; unreachable?: boolean };

/** Decides between signing in and the admin; the admin is loaded only for somebody who is signed in. */
export function Shell({ opening }: { opening: Opening | null }) {
  const [state, setState] = useState<State>(opening ? 'waiting' : { ended: false });
  const [locale, setLocale] = useState(chosenLocale);
  const [joining, setJoining] = useState(joinToken);
  /** Everything is there before the admin is shown, so that it is shown once and whole. */
  const open = async (session: CurrentSession, bringing = bringAdmin(locale)) => {
    noteHere();
    setClock(session.now);
    setState(
      await bringing.then(
        async ({ App, prepare }) => ({ session, App, prepared: await prepare(session) }),
        () => 'outdated' as const,
      ),
    );
  };
  useEffect(() => keepLocale(locale), [locale]);
  useEffect(() => {
    opening?.asking.then(
      (session) => open(session, opening.bringing),
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
        onTry={() => void bringAdmin(locale).catch(() => undefined)}
        onSignedIn={open}
      />
    );
  const leave = () => {
    forgetHere();
    setLocale(chosenLocale());
    setState({ ended: true });
  };
  const { App, session, prepared } = state;
  return (
    <LoadGuard locale={locale}>
      <App session={session} prepared={prepared} leave={leave} />
    </LoadGuard>
  );
}
