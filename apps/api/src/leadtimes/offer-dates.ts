import {
  arrivalDate,
  chanceForTheatre,
  countsFrom,
  earliestTheatreDate,
  forecastArrival,
  orderByDate,
  type ArrivalForecast,
  type MakerCalendar,
  type WorkingCalendar,
} from '@lensferry/calculation';
import type { OfferDates } from '@lensferry/contracts';
import { dayIn, fromDateOrNull } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import { calendarOf } from './calendars.js';
import { leadTimeHistory } from './lead-time-history.queries.js';

/** The chance with which a lens is to be there when a date is proposed. */
export const theatreConfidence = 0.95;

/** Someone who could be asked for a lens, and how long they quote for it. */
export interface Asked {
  readonly makerId: string;
  readonly quotedWorkingDays: number;
}

/** Says of an offer by when its lens would come if it were ordered today; offers of one class are computed once. */
export type DatesOf = (asked: Asked) => OfferDates;

/** Prepares the dates of offers for one case: its clinic's calendar, its theatre date, its makers' histories. */
export async function offerDates(
  work: Work,
  row: { clinicId: string; theatreOn: Date | null },
  makerIds: readonly string[],
): Promise<DatesOf> {
  const clinic = await work.tx.clinic.findUniqueOrThrow({ where: { id: row.clinicId } });
  const today = dayIn(clinic.timeZone, work.now);
  const theatreOn = fromDateOrNull(row.theatreOn);
  const history = await leadTimeHistory(work, makerIds);
  const known = new Map<string, OfferDates>();
  return ({ makerId, quotedWorkingDays }) => {
    const key = `${makerId}:${quotedWorkingDays}`;
    const found = known.get(key);
    if (found !== undefined) return found;
    const quote = { workingDays: Math.max(1, quotedWorkingDays) };
    const fresh = forecastArrival(history.of({ makerId, quotedDays: quotedWorkingDays }, today), quote, 0);
    const makerCalendar = history.calendar(makerId);
    // After the maker's cut-off an order of now counts from its next working day.
    const sentOn = countsFrom(work.now, makerCalendar);
    const plan = { makerCalendar, clinicCalendar: calendarOf(clinic) };
    const dates = datesOfForecast(fresh, sentOn, theatreOn, plan);
    known.set(key, dates);
    return dates;
  };
}

function datesOfForecast(
  fresh: ArrivalForecast,
  today: string,
  theatreOn: string | null,
  calendars: { makerCalendar: MakerCalendar; clinicCalendar: WorkingCalendar },
): OfferDates {
  const { cutOff, timeZone } = calendars.makerCalendar;
  const plan = { ...calendars, confidence: theatreConfidence };
  const date = (days: number): string => arrivalDate(today, days, plan);
  const orderBy = theatreOn === null ? null : orderByDate(theatreOn, fresh, plan);
  return {
    sentOn: today,
    p10: date(fresh.p10),
    p50: date(fresh.p50),
    p90: date(fresh.p90),
    basedOn: fresh.ordersBehind,
    theatreOn,
    orderBy,
    tooLate: orderBy !== null && orderBy < today,
    chanceForTheatre: theatreOn === null ? null : chanceForTheatre(today, theatreOn, fresh, plan),
    earliestTheatreOn: earliestTheatreDate(today, fresh, plan),
    cutOff: cutOff === null ? null : { at: cutOff, timeZone },
  };
}
