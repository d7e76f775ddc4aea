import { later, type Later } from './later';
import type { Asks } from './providers/ask-ahead';

/**
 * Every page by its address: `:id` stands for anything, `:part?` for anything or nothing. Where two fit, the upper one
 * is shown.
 */
export const pages = {
  '/': later(() => import('./today/TodayPage'), 'TodayPage'),
  '/cases': later(() => import('./cases/CaseListPage'), 'CaseListPage'),
  '/cases/new': later(() => import('./cases/NewCasePage'), 'NewCasePage'),
  '/cases/:id/measure': later(() => import('./cases/MeasurePage'), 'MeasurePage'),
  '/cases/:id/plan': later(() => import('./plan/PlanPage'), 'PlanPage'),
  '/cases/:id/:part?': later(() => import('./cases/CasePage'), 'CasePage'),
  '/orders': later(() => import('./orders/OrderListPage'), 'OrderListPage'),
  '/orders/:id': later(() => import('./orders/OrderPage'), 'OrderPage'),
  '/orders/:id/sign': later(() => import('./orders/SignPage'), 'SignPage'),
  '/lenses': later(() => import('./shelf/LensListPage'), 'LensListPage'),
  '/lenses/counts': later(() => import('./shelf/CountsPage'), 'CountsPage'),
  '/lenses/counts/:id': later(() => import('./shelf/CountPage'), 'CountPage'),
  '/lenses/recall': later(() => import('./shelf/RecallPage'), 'RecallPage'),
  '/lenses/between': later(() => import('./shelf/BetweenPage'), 'BetweenPage'),
  '/lenses/:id': later(() => import('./shelf/LensPage'), 'LensPage'),
  '/returns': later(() => import('./returns/ReturnListPage'), 'ReturnListPage'),
  '/returns/:id': later(() => import('./returns/ReturnPage'), 'ReturnPage'),
  '/makers': later(() => import('./makers/MakerListPage'), 'MakerListPage'),
  '/makers/:id': later(() => import('./makers/MakerPage'), 'MakerPage'),
  '/people': later(() => import('./people/PeoplePage'), 'PeoplePage'),
  '/audit': later(() => import('./audit/AuditPage'), 'AuditPage'),
  '/account': later(() => import('./people/AccountPage'), 'AccountPage'),
  '/arrivals': later(() => import('./arrivals/ArrivalsPage'), 'ArrivalsPage'),
  '/ledger': later(() => import('./ledger/LedgerPage'), 'LedgerPage'),
  '/limits': later(() => import('./limits/LimitsPage'), 'LimitsPage'),
  '/exchanges': later(() => import('./exchanges/ExchangesPage'), 'ExchangesPage'),
  '/outcomes/:part?/:id?': later(() => import('./outcomes/OutcomesPage'), 'OutcomesPage'),
} as const satisfies Record<string, Later<object>>;

export type Address = keyof typeof pages;

const partsOf = (path: string): string[] => path.split('/').filter(Boolean);

/** The address that a path is one of; none where there is no such page. */
export function addressOf(path: string): Address | undefined {
  const given = partsOf(path);
  return (Object.keys(pages) as Address[]).find((address) => {
    const wanted = partsOf(address);
    if (given.length > wanted.length) return false;
    return wanted.every((part, at) =>
      part.startsWith(':') ? given[at] !== undefined || part.endsWith('?') : part === given[at],
    );
  });
}

/** Fetches the code of the page that a path leads to, and says what it is going to ask for first. */
export async function bringPage(path: string): Promise<Asks | undefined> {
  const address = addressOf(path);
  return address && pages[address].bring();
}
