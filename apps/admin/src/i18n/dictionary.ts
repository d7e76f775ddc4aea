import type { TranslationMessages } from 'react-admin';
import type { LocaleCode } from './locale';

/** The dictionary of a language; each is its own file on the wire. */
export async function dictionaryOf(locale: LocaleCode): Promise<TranslationMessages> {
  if (locale === 'en') return (await import('./en')).default as unknown as TranslationMessages;
  // What the server says in English by itself has sentences in German only.
  const [german, finding] = await Promise.all([import('./de'), import('./de/findings')]);
  return { ...german.default, finding: finding.default } as unknown as TranslationMessages;
}
