import { lazy, use, useState } from 'react';
import { CoreAdmin, CustomRoutes, localStorageStore, Resource } from 'react-admin';
import { BrowserRouter, Route } from 'react-router-dom';
import type { CurrentSession } from '@lensferry/contracts';
import { ErrorPage } from './frame/ErrorPage';
import { Layout } from './frame/Layout';
import { NotFound } from './frame/NotFound';
import { dictionaryOf } from './i18n/dictionary';
import { i18nProviderFor } from './i18n/i18n-provider';
import type { LocaleCode } from './i18n/locale';
import { authProviderFor } from './providers/auth-provider';
import { dataProvider } from './providers/data-provider';
import { newQueryClient } from './providers/query-client';
import { SessionProvider } from './providers/session';
import { Loading } from './shared/parts/Answer';
import './shared/parts/parts.css';

const page = <Name extends string>(load: () => Promise<Record<Name, React.ComponentType>>, name: Name) =>
  lazy(async () => ({ default: (await load())[name] }));

const TodayPage = page(() => import('./today/TodayPage'), 'TodayPage');
const CaseListPage = page(() => import('./cases/CaseListPage'), 'CaseListPage');
const NewCasePage = page(() => import('./cases/NewCasePage'), 'NewCasePage');
const CasePage = page(() => import('./cases/CasePage'), 'CasePage');
const MeasurePage = page(() => import('./cases/MeasurePage'), 'MeasurePage');
const PlanPage = page(() => import('./plan/PlanPage'), 'PlanPage');
const OrderListPage = page(() => import('./orders/OrderListPage'), 'OrderListPage');
const OrderPage = page(() => import('./orders/OrderPage'), 'OrderPage');
const SignPage = page(() => import('./orders/SignPage'), 'SignPage');
const LensListPage = page(() => import('./shelf/LensListPage'), 'LensListPage');
const LensPage = page(() => import('./shelf/LensPage'), 'LensPage');
const RecallPage = page(() => import('./shelf/RecallPage'), 'RecallPage');
const BetweenPage = page(() => import('./shelf/BetweenPage'), 'BetweenPage');
const CountsPage = page(() => import('./shelf/CountsPage'), 'CountsPage');
const CountPage = page(() => import('./shelf/CountPage'), 'CountPage');
const ReturnListPage = page(() => import('./returns/ReturnListPage'), 'ReturnListPage');
const ReturnPage = page(() => import('./returns/ReturnPage'), 'ReturnPage');
const LedgerPage = page(() => import('./ledger/LedgerPage'), 'LedgerPage');
const MakerListPage = page(() => import('./makers/MakerListPage'), 'MakerListPage');
const MakerPage = page(() => import('./makers/MakerPage'), 'MakerPage');
const ArrivalsPage = page(() => import('./arrivals/ArrivalsPage'), 'ArrivalsPage');
const ExchangesPage = page(() => import('./exchanges/ExchangesPage'), 'ExchangesPage');
const OutcomesPage = page(() => import('./outcomes/OutcomesPage'), 'OutcomesPage');
const LimitsPage = page(() => import('./limits/LimitsPage'), 'LimitsPage');
const PeoplePage = page(() => import('./people/PeoplePage'), 'PeoplePage');
const AccountPage = page(() => import('./people/AccountPage'), 'AccountPage');
const AuditPage = page(() => import('./audit/AuditPage'), 'AuditPage');

const dictionaries = new Map<LocaleCode, ReturnType<typeof dictionaryOf>>();
function dictionary(locale: LocaleCode): ReturnType<typeof dictionaryOf> {
  const loading = dictionaries.get(locale) ?? dictionaryOf(locale);
  dictionaries.set(locale, loading);
  return loading;
}

interface Props {
  session: CurrentSession;
  locale: LocaleCode;
  leave: () => void;
}

/** react-admin as the frame: its providers, routing, lists and records; every component on screen is ours. */
export default function AdminApp({ session, locale, leave }: Props) {
  const messages = use(dictionary(locale));
  const [i18nProvider] = useState(() => i18nProviderFor(locale, messages));
  const [authProvider] = useState(() => authProviderFor(session, leave));
  const [queryClient] = useState(newQueryClient);
  const [store] = useState(() => localStorageStore('1', `lensferry.${session.person.id}`));
  return (
    <SessionProvider value={session}>
      <BrowserRouter>
        <CoreAdmin
          dataProvider={dataProvider}
          authProvider={authProvider}
          i18nProvider={i18nProvider}
          queryClient={queryClient}
          store={store}
          layout={Layout}
          dashboard={session.secondFactor === 'needed' ? AccountPage : TodayPage}
          catchAll={NotFound}
          error={ErrorPage}
          loading={Loading}
          title="Lensferry"
          disableTelemetry
        >
          <Resource name="cases" list={<CaseListPage />}>
            <Route path="new" element={<NewCasePage />} />
            <Route path=":id/measure" element={<MeasurePage />} />
            <Route path=":id/plan" element={<PlanPage />} />
            <Route path=":id/:part?" element={<CasePage />} />
          </Resource>
          <Resource name="orders" list={<OrderListPage />}>
            <Route path=":id" element={<OrderPage />} />
            <Route path=":id/sign" element={<SignPage />} />
          </Resource>
          <Resource name="lenses" list={<LensListPage />}>
            <Route path="counts" element={<CountsPage />} />
            <Route path="counts/:id" element={<CountPage />} />
            <Route path="recall" element={<RecallPage />} />
            <Route path="between" element={<BetweenPage />} />
            <Route path=":id" element={<LensPage />} />
          </Resource>
          <Resource name="returns" list={<ReturnListPage />}>
            <Route path=":id" element={<ReturnPage />} />
          </Resource>
          <Resource name="makers" list={<MakerListPage />}>
            <Route path=":id" element={<MakerPage />} />
          </Resource>
          <Resource name="people" list={<PeoplePage />} />
          <Resource name="audit" list={<AuditPage />} />
          <CustomRoutes>
            <Route path="/account" element={<AccountPage />} />
            <Route path="/arrivals" element={<ArrivalsPage />} />
            <Route path="/ledger" element={<LedgerPage />} />
            <Route path="/limits" element={<LimitsPage />} />
            <Route path="/exchanges" element={<ExchangesPage />} />
            <Route path="/outcomes/:part?/:id?" element={<OutcomesPage />} />
          </CustomRoutes>
        </CoreAdmin>
      </BrowserRouter>
    </SessionProvider>
  );
}
