import type { TranslationMessages } from 'react-admin';
import type { CurrentSession } from '@lensferry/contracts';
import type AdminApp from '../AdminApp';
import { dictionaryOf } from '../i18n/dictionary';
import type { LocaleCode } from '../i18n/locale';
import { bringPage } from '../pages';
import type { Memory } from '../providers/ask-ahead';

/** What has to be there before anything but signing in is shown. */
export interface Admin {
  readonly App: typeof AdminApp;
  readonly messages: TranslationMessages;
  /** Begins what is kept for somebody, with what the page at this address asks for first. */
  readonly remember: (session: CurrentSession) => Promise<Memory>;
}

/** How long the first page waits to be shown with its answer at once: longer, and it is better shown without. */
const PATIENCE_MS = 300;

/**
 * Fetches the admin, its words and the page that the address leads to, all at once.
 * @throws what the browser throws where a file is no longer there, as after an update of the server.
 */
export async function bringAdmin(locale: LocaleCode): Promise<Admin> {
  const [{ default: App, newMemory, askAhead, makeFormatsAhead }, messages, asks] = await Promise.all([
    import('../AdminApp'),
    dictionaryOf(locale),
    bringPage(location.pathname),
  ]);
  const remember = async (session: CurrentSession) => {
    const memory = newMemory(session);
    // Somebody who still has to set up a second factor is answered nothing else.
    const answered = asks && session.secondFactor !== 'needed' && askAhead(asks, memory, location);
    makeFormatsAhead(locale, session);
    if (answered) await Promise.race([answered, new Promise((enough) => setTimeout(enough, PATIENCE_MS))]);
    return memory;
  };
  return { App, messages, remember };
}
