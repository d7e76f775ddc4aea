import { useSyncExternalStore } from 'react';
import { useLocaleState } from 'react-admin';
import { now } from '../../providers/clock';
import { useSession } from '../../providers/session';
import { dateFormatOf, plainDateIn } from './dates';
import { numberFormatOf } from './numbers';

function newFormat(locale: string) {
  return { ...numberFormatOf(locale), date: dateFormatOf(locale) };
}
const formats = new Map<string, ReturnType<typeof newFormat>>();

/** One set of formatters for each language; every row of a list uses the same. */
function formatOf(locale: string): ReturnType<typeof newFormat> {
  const known = formats.get(locale) ?? newFormat(locale);
  formats.set(locale, known);
  return known;
}

/** Numbers and dates in the language of the screen. */
export function useFormat() {
  const [locale] = useLocaleState();
  return formatOf(locale);
}
export type Format = ReturnType<typeof useFormat>;

const MINUTE_MS = 60_000;
function everyMinute(changed: () => void): () => void {
  const timer = setInterval(changed, MINUTE_MS);
  return () => clearInterval(timer);
}
const minute = () => Math.floor(now().getTime() / MINUTE_MS);

/** Now, by the server's clock, refreshed every minute. */
export function useNow(): Date {
  useSyncExternalStore(everyMinute, minute);
  return now();
}

/** Today's plain date at a clinic; at the first clinic of the person when none is named. */
export function useToday(timeZone?: string): string {
  const session = useSession();
  return plainDateIn(useNow(), timeZone ?? session.clinics[0]?.timeZone ?? 'UTC');
}
