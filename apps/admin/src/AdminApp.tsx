import { useState } from 'react';
import { CoreAdmin, CustomRoutes, localStorageStore, Resource, type TranslationMessages } from 'react-admin';
import { BrowserRouter, Route } from 'react-router-dom';
import type { CurrentSession } from '@lensferry/contracts';
import { ErrorPage } from './frame/ErrorPage';
import { Layout } from './frame/Layout';
import { NotFound } from './frame/NotFound';
import { i18nProviderFor } from './i18n/i18n-provider';
import type { LocaleCode } from './i18n/locale';
import { pages, type Address } from './pages';
import type { Memory } from './providers/ask-ahead';
import { authProviderFor } from './providers/auth-provider';
import { dataProvider } from './providers/data-provider';
import { newQueryClient } from './providers/query-client';
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

export { askAhead } from './providers/ask-ahead';
export { makeFormatsAhead } from './shared/format/use-format';

export const newMemory = ({ person }: CurrentSession): Memory => ({
  queries: newQueryClient(),
  store: localStorageStore('1', `lensferry.${person.id}`),
});

interface Props {
  session: CurrentSession;
  memory: Memory;
  locale: LocaleCode;
  messages: TranslationMessages;
  leave: () => void;
}

/** react-admin as the frame: its providers, routing, lists and records; every component on screen is ours. */
export default function AdminApp({ session, memory, locale, messages, leave }: Props) {
  const [i18nProvider] = useState(() => i18nProviderFor(locale, messages));
  const [authProvider] = useState(() => authProviderFor(session, leave));
  return (
    <SessionProvider value={session}>
      <BrowserRouter>
        <CoreAdmin
          dataProvider={dataProvider}
          authProvider={authProvider}
          i18nProvider={i18nProvider}
          queryClient={memory.queries}
          store={memory.store}
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
