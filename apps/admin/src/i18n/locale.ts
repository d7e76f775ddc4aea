export const locales = [
  { locale: 'en', name: 'English' },
  { locale: 'de', name: 'Deutsch' },
] as const;
export type LocaleCode = (typeof locales)[number]['locale'];

const KEY = 'lensferry.locale';

/** The language that was chosen on this machine, else the browser's when we speak it, else English. */
export function chosenLocale(): LocaleCode {
  const kept = localStorage.getItem(KEY) ?? navigator.language.slice(0, 2);
  return locales.find(({ locale }) => locale === kept)?.locale ?? 'en';
}

export function keepLocale(locale: string): void {
  localStorage.setItem(KEY, locale);
  document.documentElement.lang = locale;
}
