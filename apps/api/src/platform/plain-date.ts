/** Making a formatter is slow, and there are few time zones. */
const formatters = new Map<string, Intl.DateTimeFormat>();

/** The ISO plain date of an instant in a time zone: the day it is at the clinic. */
export function dayIn(timeZone: string, at: Date): string {
  let formatter = formatters.get(timeZone);
  if (formatter === undefined) {
    formatter = new Intl.DateTimeFormat('sv-SE', {
      timeZone,
      year: 'numeric',
      month: '2-digit',
      day: '2-digit',
    });
    formatters.set(timeZone, formatter);
  }
  return formatter.format(at);
}

/** An ISO plain date as PostgreSQL's driver wants a DATE. */
export function toDate(day: string): Date {
  return new Date(`${day}T00:00:00.000Z`);
}

/** A DATE as the driver gives it, as an ISO plain date. */
export function fromDate(date: Date): string {
  return date.toISOString().slice(0, 10);
}

/** The same, where there may be none. */
export function fromDateOrNull(date: Date | null): string | null {
  return date === null ? null : fromDate(date);
}

export function instantOrNull(at: Date | null): string | null {
  return at === null ? null : at.toISOString();
}

/** A plain date some days later or earlier. */
export function plusDays(day: string, days: number): string {
  const date = toDate(day);
  date.setUTCDate(date.getUTCDate() + days);
  return fromDate(date);
}

/** Whole days from one plain date to another; negative when the second is earlier. */
export function daysBetween(from: string, to: string): number {
  return Math.round((toDate(to).getTime() - toDate(from).getTime()) / 86_400_000);
}
