import type { LocaleCode } from '../i18n/locale';

/** The few words that are needed before anything else is loaded. */
export const words = {
  en: {
    title: 'Sign in',
    lead: 'A made-to-order lens, from the surgeon’s plan to one patient’s eye.',
    email: 'Email',
    password: 'Password',
    go: 'Sign in',
    going: 'Signing in …',
    wrong: 'Email and password do not belong together. Check both and try again.',
    often: 'Too many tries. Wait a minute, then try again.',
    unreachable: 'The server cannot be reached. Check the connection and try again.',
    failed: 'Signing in failed. Try again; if it fails again, tell your administrator.',
    ended: 'Your session has ended. Sign in again to go on where you were.',
    loading: 'Lensferry is loading',
    outdated: 'A newer version is there. Load the page again.',
    again: 'Load again',
    language: 'Deutsch',
    caution:
      'Decision support for licensed professionals; not a medical device; check every lens with its maker’s own method.',
    eye: 'A lens crossing to one eye',
  },
  de: {
    title: 'Anmelden',
    lead: 'Eine Linse nach Maß, vom Plan der Chirurgin bis in das eine Auge.',
    email: 'E-Mail',
    password: 'Passwort',
    go: 'Anmelden',
    going: 'Wird angemeldet …',
    wrong: 'E-Mail und Passwort gehören nicht zusammen. Beides prüfen und noch einmal versuchen.',
    often: 'Zu viele Versuche. Eine Minute warten, dann noch einmal versuchen.',
    unreachable: 'Der Server ist nicht erreichbar. Verbindung prüfen und noch einmal versuchen.',
    failed: 'Die Anmeldung ist gescheitert. Noch einmal versuchen; sonst der Verwaltung melden.',
    ended: 'Die Sitzung ist zu Ende. Neu anmelden, dann geht es an derselben Stelle weiter.',
    loading: 'Lensferry wird geladen',
    outdated: 'Es gibt eine neuere Fassung. Die Seite neu laden.',
    again: 'Neu laden',
    language: 'English',
    caution:
      'Entscheidungshilfe für Fachleute; kein Medizinprodukt; jede Linse mit dem Verfahren ihres Herstellers prüfen.',
    eye: 'Eine Linse auf der Überfahrt zu einem Auge',
  },
} satisfies Record<LocaleCode, Record<string, string>>;
export type Words = (typeof words)['en'];
