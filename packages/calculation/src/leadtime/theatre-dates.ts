import { requireNumber } from '../calculation-error.js';
import type { ArrivalForecast } from './forecast-arrival.js';
import { requireWholeDays } from './lead-time-record.js';
import { addWorkingDays, nextWorkingDay, workingDaysBetween, type WorkingCalendar } from './working-days.js';

/** Calendars and margins between a maker's dispatch and a clinic's theatre. */
export interface TheatrePlan {
  readonly makerCalendar: WorkingCalendar;
  readonly clinicCalendar: WorkingCalendar;
  /** Chance with which the lens must be there, 0.5 to 0.999; 0.95 when left out. */
  readonly confidence?: number | undefined;
  /** Working days of the clinic that it wants between arrival and surgery, 0 to 60; 1 when left out. */
  readonly handlingDays?: number | undefined;
}

function settings(plan: TheatrePlan) {
  return {
    confidence: requireNumber('confidence', plan.confidence ?? 0.95, { min: 0.5, max: 0.999, unit: '' }),
    handlingDays: requireWholeDays('handlingDays', plan.handlingDays ?? 1, {
      min: 0,
      max: 60,
      unit: 'working days',
    }),
  };
}

/**
 * The last date on which an order may be sent so that its lens, if the order is not cancelled, is there for a
 * theatre date with the confidence asked for. `fresh` forecasts an order of age 0.
 * The date may lie in the past: then it is too late.
 */
export function orderByDate(theatreDate: string, fresh: ArrivalForecast, plan: TheatrePlan): string {
  const { confidence, handlingDays } = settings(plan);
  const neededBy = addWorkingDays(theatreDate, -handlingDays, plan.clinicCalendar);
  const leadDays = fresh.quantile(confidence);
  // A maker's day may be a clinic's holiday: step back until the lens is taken in early enough.
  let sendOn = addWorkingDays(neededBy, -leadDays, plan.makerCalendar);
  while (arrivalDate(sendOn, leadDays, plan) > neededBy)
    sendOn = addWorkingDays(sendOn, -1, plan.makerCalendar);
  return sendOn;
}

/** The date on which a clinic takes in a lens that comes `days` of its maker's working days after a date. */
export function arrivalDate(
  from: string,
  days: number,
  plan: Pick<TheatrePlan, 'makerCalendar' | 'clinicCalendar'>,
): string {
  return nextWorkingDay(addWorkingDays(from, days, plan.makerCalendar), plan.clinicCalendar);
}

/** The first theatre date for which the awaited lens, if not cancelled, is there with the confidence asked for. */
export function earliestTheatreDate(today: string, awaited: ArrivalForecast, plan: TheatrePlan): string {
  const { confidence, handlingDays } = settings(plan);
  const arrives = arrivalDate(today, awaited.quantile(confidence), plan);
  return nextWorkingDay(addWorkingDays(arrives, handlingDays, plan.clinicCalendar), plan.clinicCalendar);
}

/** Chance that an awaited lens has been taken in, with the handling days left, before a theatre date. */
export function chanceForTheatre(
  today: string,
  theatreDate: string,
  awaited: ArrivalForecast,
  plan: TheatrePlan,
): number {
  const { handlingDays } = settings(plan);
  const neededBy = addWorkingDays(theatreDate, -handlingDays, plan.clinicCalendar);
  if (neededBy <= today) return 0;
  let days = workingDaysBetween(today, neededBy, plan.makerCalendar);
  while (days > 0 && arrivalDate(today, days, plan) > neededBy) days -= 1;
  return awaited.chanceBy(days);
}
