const DAY_MS = 86_400_000;

const formats = new Map<string, Intl.DateTimeFormat>();
const styles = {
  plain: { year: 'numeric', month: '2-digit', day: '2-digit' },
  time: { hour: '2-digit', minute: '2-digit' },
  exact: { dateStyle: 'medium', timeStyle: 'medium' },
} as const satisfies Record<string, Intl.DateTimeFormatOptions>;

/** A formatter, made once for each language, style and time zone: making one costs more than a hundred uses. */
function formatter(locale: string, style: keyof typeof styles, timeZone: string): Intl.DateTimeFormat {
  const key = `${locale} ${style} ${timeZone}`;
  const known = formats.get(key) ?? new Intl.DateTimeFormat(locale, { timeZone, ...styles[style] });
  formats.set(key, known);
  return known;
}

/** The plain date that it is in a time zone at an instant. */
export function plainDateIn(instant: Date, timeZone: string): string {
  return formatter('en-CA', 'plain', timeZone).format(instant);
}

/** Whole days from one plain date to another; negative when the second is earlier. */
export function daysBetween(from: string, to: string): number {
  return Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / DAY_MS);
}

export function addDays(date: string, days: number): string {
  return new Date(Date.parse(`${date}T00:00:00Z`) + days * DAY_MS).toISOString().slice(0, 10);
}

const noon = (date: string): Date => new Date(`${date}T12:00:00Z`);

export type DateFormat = ReturnType<typeof dateFormatOf>;

/** How dates are written in a language, each with how far away it is. `today` is the plain date at the clinic. */
export function dateFormatOf(locale: string) {
  // Made when first used: a formatter costs as much as hundreds of dates written with it.
  let relative: Intl.RelativeTimeFormat | undefined;
  const away = (count: number, unit: 'day' | 'month' | 'year') =>
    (relative ??= new Intl.RelativeTimeFormat(locale, { numeric: 'auto' })).format(count, unit);
  // Day before month in English too, as our clinics write it.
  const dates = locale === 'en' ? 'en-GB' : locale;
  const written = (parts: Intl.DateTimeFormatOptions) => {
    let format: Intl.DateTimeFormat | undefined;
    return (date: string) =>
      (format ??= new Intl.DateTimeFormat(dates, { timeZone: 'UTC', ...parts }))
        .format(noon(date))
        .replace(',', '');
  };
  const short = written({ weekday: 'short', day: 'numeric', month: 'short' });
  const dated = written({ day: 'numeric', month: 'short', year: 'numeric' });
  const long = written({ weekday: 'long', day: 'numeric', month: 'long' });
  const day = (date: string, today: string) =>
    (Math.abs(daysBetween(today, date)) > 200 ? dated : short)(date);
  const distance = (date: string, today: string) => {
    const days = daysBetween(today, date);
    if (Math.abs(days) < 45) return away(days, 'day');
    if (Math.abs(days) < 700) return away(Math.round(days / 30.44), 'month');
    return away(Math.round(days / 365.25), 'year');
  };
  return {
    /** `Wed 9 Dec`; with its year when it is far away. */
    day,
    /** `9 Dec 2026`: for what is read long afterwards, or on paper. */
    withYear: dated,
    long,
    /** `in 14 days` */
    distance,
    /** `Wed 9 Dec, in 14 days` */
    dayAndDistance: (date: string, today: string) => `${day(date, today)}, ${distance(date, today)}`,
    time: (instant: string, timeZone: string) => formatter(dates, 'time', timeZone).format(new Date(instant)),
    /** `today 08:10`, or the day with its distance. */
    moment(instant: string, now: Date, timeZone: string): string {
      const today = plainDateIn(now, timeZone);
      const date = plainDateIn(new Date(instant), timeZone);
      const near = Math.abs(daysBetween(today, date)) < 2;
      return near
        ? `${distance(date, today)} ${this.time(instant, timeZone)}`
        : `${day(date, today)}, ${distance(date, today)}`;
    },
    /** `8 days ago`; with the time when it was today or yesterday. */
    ago(instant: string, now: Date, timeZone: string): string {
      const today = plainDateIn(now, timeZone);
      const date = plainDateIn(new Date(instant), timeZone);
      return Math.abs(daysBetween(today, date)) < 2
        ? `${distance(date, today)} ${this.time(instant, timeZone)}`
        : distance(date, today);
    },
    exact: (instant: string, timeZone: string) =>
      formatter(dates, 'exact', timeZone).format(new Date(instant)),
  };
}
