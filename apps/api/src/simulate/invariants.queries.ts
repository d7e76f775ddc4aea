import type { Today } from '@lensferry/contracts';
import { awaitedFromMaker, stageOf } from '@lensferry/domain';
import { loadCase } from '../cases/cases.store.js';
import { stageFacts } from '../cases/refresh-stage.js';
import { makerCalendarOf } from '../leadtimes/calendars.js';
import { isLate } from '../orders/forecast-arrival.js';
import { fromDate } from '../platform/plain-date.js';
import { networkSettings } from '../platform/settings-of-network.js';
import type { Work } from '../platform/work.js';

/** One thing that must hold: how many were looked at, and those for which it doesn't. */
export interface Checked {
  readonly what: string;
  readonly of: number;
  readonly against: readonly string[];
}

const checked = (what: string, of: number, against: string[]): Checked => ({ what, of, against });

/** Everything that must hold at any moment of a clinic's year. `alerts` is what its coordinator sees on that day. */
export async function checkClinic(work: Work, alerts: Today): Promise<Checked[]> {
  return [
    await lensesAccountedFor(work),
    await creditsMatched(work),
    await rejectedLensesOnTheirWay(work),
    await casesWithANextStep(work),
    await noSilentOrder(work, alerts),
    await nothingLeftToSend(work),
  ];
}

/** A lens is in stock for a case, in one eye, on its way back or gone, and its papers say the same. */
async function lensesAccountedFor({ tx }: Work): Promise<Checked> {
  const lenses = await tx.lensUnit.findMany({ include: { implantations: true, returns: true, order: true } });
  const against = lenses.filter((lens) => {
    const inEye = lens.implantations.some(({ explantedOn }) => explantedOn === null);
    const out = lens.implantations.some(({ explantedOn }) => explantedOn !== null);
    const back = (...states: string[]): boolean => lens.returns.some(({ state }) => states.includes(state));
    switch (lens.state) {
      case 'reserved':
        return lens.caseId !== lens.order.caseId || inEye || lens.order.state !== 'accepted';
      case 'implanted':
        return !inEye;
      case 'explanted':
        return !out || inEye;
      case 'returning':
        return !back('handed_over');
      case 'returned':
        return !back('received');
      case 'credited':
        return !back('credited');
      case 'quarantined':
        return !['quarantined', 'rejected'].includes(lens.order.state);
      default:
        return inEye;
    }
  });
  const orders = await tx.lensOrder.findMany({
    where: { state: { in: ['accepted', 'quarantined', 'rejected'] } },
    include: { lenses: true },
  });
  const lensless = orders.filter((order) => order.lenses.length !== 1).map(({ number }) => `order ${number}`);
  return checked('every lens accounted for', lenses.length, [
    ...against.map(({ serial, state }) => `lens ${serial} (${state})`),
    ...lensless,
  ]);
}

async function creditsMatched({ tx }: Work): Promise<Checked> {
  const returns = await tx.lensReturn.findMany({ include: { lens: true } });
  const against = returns.filter(
    ({ state, creditGot, creditExpected, note, lens }) =>
      (state === 'credited') !== (lens.state === 'credited') ||
      (state === 'credited') !== (creditGot !== null) ||
      (creditGot !== null && !creditGot.equals(creditExpected) && note === null),
  );
  return checked(
    'every credit matched with its return and its lens',
    returns.length,
    against.map(({ number }) => number),
  );
}

/** What came out of an eye or was rejected has a return, or stands on the list of what is to go back. */
async function rejectedLensesOnTheirWay(work: Work): Promise<Checked> {
  const lenses = await work.tx.lensUnit.findMany({
    where: { OR: [{ state: 'explanted' }, { state: 'quarantined', order: { state: 'rejected' } }] },
    include: { returns: true },
  });
  const against = lenses.filter(
    ({ returns, stateSince }) =>
      returns.length === 0 && work.now.getTime() - stateSince.getTime() > 7 * 86_400_000,
  );
  return checked(
    'no lens that is to go back lies about for a week without a return',
    lenses.length,
    against.map(({ serial }) => serial),
  );
}

async function casesWithANextStep(work: Work): Promise<Checked> {
  const rows = await work.tx.eyeCase.findMany({ where: { closedAt: null, withdrawnAt: null } });
  const { stableMonthsAtLeast } = await networkSettings(work);
  const against: string[] = [];
  for (const { id, code, stage, awaited } of rows) {
    const facts = stageFacts(await loadCase(work, id), fromDate(work.now), stableMonthsAtLeast);
    if (awaited === 'nothing') against.push(`${code} waits for nothing`);
    else if (stageOf(facts) !== stage) against.push(`${code} is ${stage}, by its facts ${stageOf(facts)}`);
  }
  return checked('no open case without a next step', rows.length, against);
}

async function noSilentOrder(work: Work, alerts: Today): Promise<Checked> {
  const makers = new Map((await work.tx.maker.findMany()).map((maker) => [maker.id, makerCalendarOf(maker)]));
  const out = await work.tx.lensOrder.findMany({
    where: { state: { in: [...awaitedFromMaker] } },
  });
  const seen = new Set([...alerts.atRisk, ...alerts.toReceive, ...alerts.sendFailed].map(({ id }) => id));
  const late = out.filter((order) => {
    const calendar = makers.get(order.makerId);
    return calendar !== undefined && isLate(order, fromDate(work.now), calendar);
  });
  return checked(
    'no order silent past its date without an alert',
    out.length,
    late.filter(({ id }) => !seen.has(id)).map(({ number }) => number),
  );
}

async function nothingLeftToSend(work: Work): Promise<Checked> {
  const events = await work.tx.outboxEvent.findMany();
  const old = events.filter(
    ({ doneAt, createdAt }) => doneAt === null && work.now.getTime() - createdAt.getTime() > 7 * 86_400_000,
  );
  return checked(
    'nothing lies in the outbox for a week',
    events.length,
    old.map(({ topic, id }) => `${topic} ${id}`),
  );
}
