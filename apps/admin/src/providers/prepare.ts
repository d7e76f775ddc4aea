import { localStorageStore, type I18nProvider, type TranslationMessages } from 'react-admin';
import type { CurrentSession } from '@lensferry/contracts';
import { i18nProviderFor } from '../i18n/i18n-provider';
import type { LocaleCode } from '../i18n/locale';
import { makeFormatsAhead } from '../shared/format/use-format';
import { askAhead, type Asks, type Memory } from './ask-ahead';
import { newQueryClient } from './query-client';

/** What the admin works with for one person. */
export interface Prepared extends Memory {
  readonly i18n: I18nProvider;
}

/** How long the first page waits for its answer, to be shown with it: longer, and it is better shown without. */
const PATIENCE_MS = 300;

/** Makes what the admin works with, all of it while what its first page asks for is answered. */
export async function prepare(
  session: CurrentSession,
  { locale, messages, asks }: { locale: LocaleCode; messages: TranslationMessages; asks: Asks | undefined },
): Promise<Prepared> {
  const memory = {
    queries: newQueryClient(),
    store: localStorageStore('1', `lensferry.${session.person.id}`),
  };
  // What react-admin keeps as the language is the one that was chosen last, also where that was when signing in.
  if (memory.store.getItem('locale') !== locale) memory.store.setItem('locale', locale);
  // Somebody who still has to set up a second factor is answered nothing else.
  const answered = asks && session.secondFactor !== 'needed' ? askAhead(asks, memory, location) : null;
  makeFormatsAhead(locale, session);
  const i18n = i18nProviderFor(locale, messages);
  if (answered) await Promise.race([answered, new Promise((enough) => setTimeout(enough, PATIENCE_MS))]);
  return { ...memory, i18n };
}
