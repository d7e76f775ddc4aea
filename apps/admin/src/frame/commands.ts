import type { SearchResult } from '@lensferry/contracts';
import type { Permission } from '@lensferry/domain';
import { places, type Place } from './places';
import type { Recent } from './recent';

export interface Found {
  label: string;
  detail: string;
  path: string;
}

const paths: Record<SearchResult['kind'], (result: SearchResult) => string> = {
  case: ({ id }) => `/cases/${id}`,
  order: ({ id }) => `/orders/${id}`,
  lens: ({ id }) => `/lenses/${id}`,
  return: ({ id }) => `/returns/${id}`,
};

const doings: readonly Place[] = [
  { name: 'new_case', path: '/cases/new', permission: 'case.open' },
  { name: 'limits', path: '/limits', permission: 'case.read' },
];

/** What was found first, or what was opened lately while nothing is looked for; then the places and doings whose names hold the text. */
export function commandsFor(
  text: string,
  results: readonly SearchResult[],
  mayDo: (permission: Permission) => boolean,
  t: (key: string, facts?: Record<string, unknown>) => string,
  tell: (name: string, value: string) => string,
  recent: readonly Recent[] = [],
): Found[] {
  const named = [...doings, ...places]
    .filter(({ permission }) => permission === undefined || mayDo(permission))
    .map(({ name, path }) => ({ label: t(`place.${name}`), detail: t('frame.place'), path }))
    .filter(({ label }) => label.toLowerCase().includes(text.toLowerCase()));
  const things = results.map((result) => ({
    label: result.label,
    detail: `${t(`frame.kinds.${result.kind}`)} · ${tell('detail', result.detail)}`,
    path: paths[result.kind](result),
  }));
  const opened = (text === '' ? recent : []).map(({ kind, label, path }) => ({
    label,
    detail: t('frame.recent', { kind: t(`frame.kinds.${kind}`) }),
    path,
  }));
  return [...things, ...opened, ...named];
}
