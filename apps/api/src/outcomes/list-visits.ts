import { scheduledVisits, visitStandings } from '@lensferry/calculation';
import type { DueVisit, DueVisits, VisitsQuery } from '@lensferry/contracts';
import { dayIn, daysBetween, plusDays } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import { networkSettings } from '../platform/settings-of-network.js';
import { readOperatedEyes, type OperatedEye } from './operated-eyes.queries.js';

/** More than a day's telephone calls; those who waited longest stand first. */
const most = 500;

/** Who is due or overdue for a visit, the longest overdue first; then who comes next. Closed cases wait for none. */
export async function listVisits(work: Work, query: VisitsQuery): Promise<DueVisits> {
  const eyes = await readOperatedEyes(work);
  const { visitDays } = await networkSettings(work);
  const items = eyes
    .filter(({ closed, clinic }) => !closed && (query.clinicId === undefined || clinic.id === query.clinicId))
    .flatMap((eye) => dueVisit(eye, dayIn(eye.clinic.timeZone, work.now), visitDays) ?? [])
    .filter(({ state }) => query.state === 'all' || state === query.state)
    .sort((a, b) => a.daysFromNow - b.daysFromNow || a.caseCode.localeCompare(b.caseCode));
  return {
    items: items.slice(0, most),
    total: items.length,
    schedule: scheduledVisits(visitDays.at(-1) ?? 0, visitDays).map(({ code, day }) => ({ code, day })),
  };
}

function dueVisit(eye: OperatedEye, today: string, visitDays: readonly number[]): DueVisit | null {
  const since = daysBetween(eye.operatedOn, today);
  if (since < 0) return null;
  const visitedOn = eye.outcome.visits.map(({ daysAfter }) => daysAfter).filter((day) => day <= since);
  const standings = visitStandings(since, visitedOn, visitDays);
  const open =
    standings.filter(({ state }) => state === 'due' || state === 'overdue').at(-1) ?? standings.at(-1);
  if (open === undefined || open.state === 'done' || open.state === 'missed') return null;
  const dueOn = plusDays(eye.operatedOn, open.day);
  return {
    caseId: eye.caseId,
    caseCode: eye.caseCode,
    codeName: eye.codeName,
    eye: eye.eye,
    clinic: { id: eye.clinic.id, name: eye.clinic.name },
    operatedOn: eye.operatedOn,
    visit: open.code,
    dueOn,
    latestOn: plusDays(eye.operatedOn, open.toDay),
    state: open.state,
    daysFromNow: daysBetween(today, dueOn),
    missed: standings.filter(({ state }) => state === 'missed').map(({ code }) => code),
  };
}
