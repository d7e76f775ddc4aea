import { useEffect, useState } from 'react';
import type { CurrentSession } from '@lensferry/contracts';
import { setClock } from '../providers/clock';
import type { Memory } from '../providers/ask-ahead';
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
  | { session: CurrentSession; admin: Admin; memory: Memory }
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
        async (admin) => ({ session, admin, memory: await admin.remember(session) }),
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
  const { App, messages } = state.admin;
  return (
    <LoadGuard locale={locale}>
      <App session={state.session} memory={state.memory} locale={locale} messages={messages} leave={leave} />
    </LoadGuard>
  );
}
