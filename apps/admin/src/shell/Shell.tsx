import { useEffect, useState } from 'react';
import type { CurrentSession } from '@lensferry/contracts';
import { chosenLocale, keepLocale } from '../i18n/locale';
import { bringAdmin } from './bring-admin';
import { JoinPage } from './JoinPage';
import { LoadGuard, Outdated } from './LoadGuard';
import { enter, forgetHere, type Opened } from './opening';
import { SignInPage } from './SignInPage';

/** The token of a one-time link stands after the #, so that no server ever logs it. */
const joinToken = (): string | null => /^#join=([\w-]{20,100})$/.exec(location.hash)?.[1] ?? null;

/** Decides between signing in and the admin; the admin is loaded only for somebody who is signed in. */
export function Shell({ first }: { first: Opened }) {
  const [state, setState] = useState(first);
  const [locale, setLocale] = useState(chosenLocale);
  const [joining, setJoining] = useState(joinToken);
  const open = async (session: CurrentSession) => setState(await enter(session, bringAdmin(locale)));
  useEffect(() => keepLocale(locale), [locale]);
  if (joining !== null) {
    const joined = () => {
      history.replaceState(null, '', '/');
      setJoining(null);
      setState({ ended: false, unreachable: false });
    };
    return <JoinPage locale={locale} token={joining} onDone={joined} />;
  }
  if (state === 'outdated') return <Outdated locale={locale} />;
  if (!('session' in state))
    return (
      <SignInPage
        locale={locale}
        ended={state.ended}
        unreachable={state.unreachable}
        onLocale={setLocale}
        onTry={() => void bringAdmin(locale).catch(() => undefined)}
        onSignedIn={open}
      />
    );
  const leave = () => {
    forgetHere();
    setLocale(chosenLocale());
    setState({ ended: true, unreachable: false });
  };
  const { App, session, prepared } = state;
  return (
    <LoadGuard locale={locale}>
      <App session={session} prepared={prepared} leave={leave} />
    </LoadGuard>
  );
}
