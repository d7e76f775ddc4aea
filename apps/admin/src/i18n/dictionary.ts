import type { TranslationMessages } from 'react-admin';
import type { LocaleCode } from './locale';

/** The dictionary of a language; each is its own file on the wire. */
export async function dictionaryOf(locale: LocaleCode): Promise<TranslationMessages> {
  const { default: dictionary } = locale === 'de' ? await import('./de') : await import('./en');
  return dictionary as unknown as TranslationMessages;
}
