import { useSyncExternalStore } from 'react';
import { useI18nProvider } from 'react-admin';
import type { CurrentSession } from '@lensferry/contracts';
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
  // Not `useLocaleState`, which reads the store of this machine each time: hundreds of times for one list. Another
  // language draws everything anew.
  return formatOf(useI18nProvider().getLocale());
}
export type Format = ReturnType<typeof useFormat>;

const MINUTE_MS = 60_000;
const listening = new Set<() => void>();
let timer: ReturnType<typeof setInterval> | undefined;

/** One timer for everything on screen that says how far away something is. */
function everyMinute(changed: () => void): () => void {
  listening.add(changed);
  timer ??= setInterval(() => listening.forEach((one) => one()), MINUTE_MS);
  return () => {
    listening.delete(changed);
    if (listening.size > 0) return;
    clearInterval(timer);
    timer = undefined;
  };
}
const minute = () => Math.floor(now().getTime() / MINUTE_MS);

/** The minute that it is by the server's clock; whoever asks is drawn again when it is over. */
export const useMinute = (): number => useSyncExternalStore(everyMinute, minute);

/** Now, by the server's clock, refreshed every minute. */
export function useNow(): Date {
  useMinute();
  return now();
}

const days = new Map<string, { minute: number; day: string }>();

/** Today's plain date in a time zone, worked out once a minute; by itself it refreshes nothing. */
export function todayIn(timeZone: string): string {
  const known = days.get(timeZone);
  const at = minute();
  if (known?.minute === at) return known.day;
  const day = plainDateIn(now(), timeZone);
  days.set(timeZone, { minute: at, day });
  return day;
}

/** Today's plain date at a clinic; at the first clinic of the person when none is named. */
export function useToday(timeZone?: string): string {
  const session = useSession();
  useMinute();
  return todayIn(timeZone ?? session.clinics[0]?.timeZone ?? 'UTC');
}

/**
 * Makes what dates are written with, for when the browser has nothing else to do: the first use of a time zone takes it
 * as long as a hundred rows.
 */
export function makeFormatsAhead(locale: string, { clinics }: CurrentSession): void {
  const { date } = formatOf(locale);
  for (const { timeZone } of clinics) date.dayAndDistance(todayIn(timeZone), todayIn(timeZone));
}
