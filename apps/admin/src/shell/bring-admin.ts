import type { CurrentSession } from '@lensferry/contracts';
import type AdminApp from '../AdminApp';
import { dictionaryOf } from '../i18n/dictionary';
import type { LocaleCode } from '../i18n/locale';
import { bringPage } from '../pages';
import type { Prepared } from '../providers/prepare';

/** What has to be there before anything but signing in is shown. */
export interface Admin {
  readonly App: typeof AdminApp;
  readonly prepare: (session: CurrentSession) => Promise<Prepared>;
}

/**
 * Fetches the admin, its words and the page that the address leads to, all at once.
 * @throws what the browser throws where a file is no longer there, as after an update of the server.
 */
export async function bringAdmin(locale: LocaleCode): Promise<Admin> {
  const [{ default: App, prepare }, messages, asks] = await Promise.all([
    import('../AdminApp'),
    dictionaryOf(locale),
    bringPage(location.pathname),
  ]);
  return { App, prepare: (session) => prepare(session, { locale, messages, asks }) };
}
