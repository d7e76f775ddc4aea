import { useState } from 'react';
import { CoreAdminContext } from 'react-admin';
import { BrowserRouter, Route, Routes } from 'react-router-dom';
import type { CurrentSession } from '@lensferry/contracts';
import { Layout } from './frame/Layout';
import { NotFound } from './frame/NotFound';
import { pages, type Address } from './pages';
import { authProviderFor } from './providers/auth-provider';
import { dataProvider } from './providers/data-provider';
import type { Prepared } from './providers/prepare';
import { SessionProvider } from './providers/session';
import './shared/parts/parts.css';

export { prepare } from './providers/prepare';

interface Props {
  session: CurrentSession;
  prepared: Prepared;
  leave: () => void;
}

/**
 * react-admin as the frame: its providers, lists, records and store; every component on screen is ours. Its own routes
 * would be registered, and all that is on screen drawn anew, three times over at each opening; ours are one table.
 */
export default function AdminApp({ session, prepared, leave }: Props) {
  const [authProvider] = useState(() => authProviderFor(session, leave));
  return (
    <SessionProvider value={session}>
      <BrowserRouter>
        <CoreAdminContext
          dataProvider={dataProvider}
          authProvider={authProvider}
          i18nProvider={prepared.i18n}
          queryClient={prepared.queries}
          store={prepared.store}
        >
          <Layout>
            <Routes>
              {(Object.keys(pages) as Address[]).map((address) => {
                // Somebody who still has to set up a second factor may do nothing else.
                const isHome = address === '/' && session.secondFactor === 'needed';
                const Page = pages[isHome ? '/account' : address];
                return <Route key={address} path={address} element={<Page />} />;
              })}
              <Route path="*" element={<NotFound />} />
            </Routes>
          </Layout>
        </CoreAdminContext>
      </BrowserRouter>
    </SessionProvider>
  );
}
