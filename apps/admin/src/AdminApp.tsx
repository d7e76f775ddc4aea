import { useState } from 'react';
import { CoreAdmin, CustomRoutes, Resource } from 'react-admin';
import { BrowserRouter, Route } from 'react-router-dom';
import type { CurrentSession } from '@lensferry/contracts';
import { ErrorPage } from './frame/ErrorPage';
import { Layout } from './frame/Layout';
import { NotFound } from './frame/NotFound';
import { pages, type Address } from './pages';
import { authProviderFor } from './providers/auth-provider';
import { dataProvider } from './providers/data-provider';
import type { Prepared } from './providers/prepare';
import { SessionProvider } from './providers/session';
import { Loading } from './shared/parts/Answer';
import './shared/parts/parts.css';

/** What react-admin calls resources; every other page is a route of its own. */
const resources = ['cases', 'orders', 'lenses', 'returns', 'makers', 'people', 'audit'] as const;
const isOf = (resource: string, address: string) => address.startsWith(`/${resource}/`);

function routes(belongs: (address: string) => boolean, under = '/') {
  return (Object.keys(pages) as Address[]).filter(belongs).map((address) => {
    const Page = pages[address];
    return <Route key={address} path={address.slice(under.length)} element={<Page />} />;
  });
}

const listOf = (resource: (typeof resources)[number]) => {
  const List = pages[`/${resource}`];
  return <List />;
};

export { prepare } from './providers/prepare';

interface Props {
  session: CurrentSession;
  prepared: Prepared;
  leave: () => void;
}

/** react-admin as the frame: its providers, routing, lists and records; every component on screen is ours. */
export default function AdminApp({ session, prepared, leave }: Props) {
  const [authProvider] = useState(() => authProviderFor(session, leave));
  return (
    <SessionProvider value={session}>
      <BrowserRouter>
        <CoreAdmin
          dataProvider={dataProvider}
          authProvider={authProvider}
          i18nProvider={prepared.i18n}
          queryClient={prepared.queries}
          store={prepared.store}
          layout={Layout}
          dashboard={session.secondFactor === 'needed' ? pages['/account'] : pages['/']}
          catchAll={NotFound}
          error={ErrorPage}
          loading={Loading}
          title="Lensferry"
          disableTelemetry
        >
          {resources.map((name) => (
            <Resource key={name} name={name} list={listOf(name)}>
              {routes((address) => isOf(name, address), `/${name}/`)}
            </Resource>
          ))}
          <CustomRoutes>
            {routes(
              (address) =>
                address !== '/' && !resources.some((name) => address === `/${name}` || isOf(name, address)),
            )}
          </CustomRoutes>
        </CoreAdmin>
      </BrowserRouter>
    </SessionProvider>
  );
}
