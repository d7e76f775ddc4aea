/** Days in a month of the Gregorian calendar; `month` is 1 to 12. */
export function daysInMonth(year: number, month: number): number {
  if (month === 2) return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
  return [4, 6, 9, 11].includes(month) ? 30 : 31;
}

/** The ISO plain date, or null when there is no such day. */
export function plainDate(year: number, month: number, day: number): string | null {
  if (month < 1 || month > 12 || day < 1 || day > daysInMonth(year, month)) return null;
  return `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`;
}

/** The ISO plain date of day `dayOfYear` (1 to 365 or 366), or null when that year has no such day. */
export function dateOfYearDay(year: number, dayOfYear: number): string | null {
  let left = dayOfYear;
  if (left < 1) return null;
  for (let month = 1; month <= 12; month += 1) {
    const days = daysInMonth(year, month);
    if (left <= days) return plainDate(year, month, left);
    left -= days;
  }
  return null;
}

/**
 * The year that two printed digits mean, seen from the year in which the label is read.
 * @source GS1 General Specifications, section 7.12: 51 or more ahead is the last century, 50 or more behind the next.
 */
export function fullYear(twoDigits: number, yearNow: number): number {
  const century = yearNow - (yearNow % 100);
  const ahead = twoDigits - (yearNow % 100);
  if (ahead >= 51) return century - 100 + twoDigits;
  if (ahead <= -50) return century + 100 + twoDigits;
  return century + twoDigits;
}

/** True when the text is an existing day written as `YYYY-MM-DD`. */
export function isPlainDate(text: string): boolean {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  return match !== null && plainDate(Number(match[1]), Number(match[2]), Number(match[3])) === text;
}
