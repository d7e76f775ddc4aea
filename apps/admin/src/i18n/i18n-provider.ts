import polyglotI18nProvider from 'ra-i18n-polyglot';
import type { I18nProvider, TranslationMessages } from 'react-admin';
import { dictionaryOf } from './dictionary';
import { keepLocale, locales, type LocaleCode } from './locale';

/** The polyglot provider, with the language kept on this machine and told to the page. */
export function i18nProviderFor(locale: LocaleCode, first: TranslationMessages): I18nProvider {
  const provider = polyglotI18nProvider(
    (wanted) => (wanted === locale ? first : dictionaryOf(wanted as LocaleCode)),
    locale,
    [...locales],
  );
  return {
    ...provider,
    changeLocale: async (wanted, options) => {
      await provider.changeLocale(wanted, options);
      keepLocale(wanted);
    },
  };
}
