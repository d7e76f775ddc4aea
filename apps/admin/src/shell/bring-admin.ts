import type { TranslationMessages } from 'react-admin';
import type AdminApp from '../AdminApp';
import { dictionaryOf } from '../i18n/dictionary';
import type { LocaleCode } from '../i18n/locale';
import { bringPage } from '../pages';

/** What has to be there before anything but signing in is shown. */
export interface Admin {
  readonly App: typeof AdminApp;
  readonly messages: TranslationMessages;
}

/**
 * Fetches the admin, its words and the page that the address leads to, all at once.
 * @throws what the browser throws where a file is no longer there, as after an update of the server.
 */
export async function bringAdmin(locale: LocaleCode): Promise<Admin> {
  const [{ default: App }, messages] = await Promise.all([
    import('../AdminApp'),
    dictionaryOf(locale),
    bringPage(location.pathname),
  ]);
  return { App, messages };
}
