import { addWorkingDays, nextWorkingDay, type WorkingCalendar } from '@lensferry/calculation';
import { holidaysAround } from '../demo/network.js';
import type { Database } from '../platform/database.js';
import type { Actor } from '../platform/work.js';
import { assumptions } from './assumptions.js';

const founder: Actor = { kind: 'worker', personId: null, name: 'Simulation', clinicIds: [] };

/** When both sides work in the virtual year. */
export interface Calendars {
  readonly maker: WorkingCalendar;
  readonly clinic: WorkingCalendar;
}

/** Makers close for two fortnights besides the common holidays; it is written into their calendars, which forecasts use. */
export async function keepHolidays(database: Database, year: number): Promise<Calendars> {
  const common = holidaysAround(year);
  const closed = [year - 1, year, year + 1].flatMap((y) =>
    assumptions.closures.flatMap(([from, to]) => daysFrom(`${y}-${from}`, `${y}-${to}`)),
  );
  const holidays = [...new Set([...common, ...closed])].sort();
  await database.work(founder, async ({ tx }) => {
    await tx.maker.updateMany({ data: { holidays } });
    await tx.clinic.updateMany({ data: { holidays: common } });
  });
  return { maker: { holidays: new Set(holidays) }, clinic: { holidays: new Set(common) } };
}

function daysFrom(from: string, to: string): string[] {
  const days: string[] = [];
  for (let at = Date.parse(from); at <= Date.parse(to); at += 86_400_000)
    days.push(new Date(at).toISOString().slice(0, 10));
  return days;
}

/** The clinic's working day so many of them after a day; the day itself, or the next working one, for 0. */
export function clinicDay({ clinic }: Calendars, from: string, days: number): string {
  return days === 0 ? nextWorkingDay(from, clinic) : addWorkingDays(from, days, clinic);
}
