import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { CountedShare } from '@lensferry/contracts';
import type { Clinic } from '../demo/cast.js';
import { as } from '../demo/cast.js';
import { makeNetwork } from '../demo/make-network.js';
import { workingDaysFrom } from '../leadtimes/calendars.js';
import { calibrationOf } from '../leadtimes/maker-lead-times.queries.js';
import { SetClock } from '../platform/clock.js';
import { Database } from '../platform/database.js';
import { SealedBox } from '../platform/sealed-box.js';
import { today } from '../today/today.queries.js';
import { Agenda } from './agenda.js';
import { assumptions } from './assumptions.js';
import { keepHolidays } from './calendar.js';
import { Chance } from './chance.js';
import { checkClinic, type Checked } from './invariants.queries.js';
import { beginCase, type World } from './one-case.js';
import type { Outcome } from './report.js';
import { Tally } from './tally.js';

/** The virtual year begins on this Monday, whatever day it is outside. */
const firstDay = '2026-01-05';
const dayMs = 86_400_000;

export interface Wanted {
  readonly databaseUrl: string;
  readonly identityKey: string;
  readonly seed: number;
  readonly weeks: number;
  /** Weeks in which new eyes come; all of them when left out. */
  readonly openWeeks?: number;
  readonly log?: (line: string) => void;
}

/** Plays so many weeks of three clinics and four makers through the use cases, by a virtual clock, and checks them. */
export async function simulate(wanted: Wanted): Promise<Outcome> {
  const { databaseUrl, identityKey, seed, weeks } = wanted;
  const clock = new SetClock(new Date(`${firstDay}T06:00:00Z`));
  const box = new SealedBox(identityKey);
  const database = new Database(databaseUrl, 3, clock, box);
  try {
    const means = {
      password: 'only-in-simulations-1',
      folder: join(tmpdir(), 'no-such-folder'),
      simulator: null,
    };
    const network = await makeNetwork(database, box, means);
    const calendars = await keepHolidays(database, clock.now().getUTCFullYear());
    const end = new Date(clock.now().getTime() + weeks * 7 * dayMs);
    const world: World = {
      cast: { ...network, database, clock },
      agenda: new Agenda(clock, end),
      calendars,
      tally: new Tally(),
    };
    fillAgenda(world, wanted);
    await world.agenda.play();
    const checks: Checked[] = [];
    for (const clinic of network.clinics) checks.push(...(await look(world, clinic)));
    const calibration = await calibrated(world);
    return { seed, weeks, tally: world.tally, checks: together(checks), calibration };
  } finally {
    await database.close();
  }
}

function fillAgenda(world: World, { seed, weeks, openWeeks = weeks, log }: Wanted): void {
  const day = (offset: number): string =>
    new Date(Date.parse(firstDay) + offset * dayMs).toISOString().slice(0, 10);
  let index = 0;
  for (let week = 0; week < weeks; week += 1) {
    for (const clinic of week < openWeeks ? world.cast.clinics : [])
      for (let eye = 0; eye < assumptions.eyesAWeek; eye += 1) {
        index += 1;
        const chance = new Chance(seed * 100_003 + index);
        beginCase(world, clinic, index, chance, day(week * 7 + chance.whole(0, 4)));
      }
    if (week % 8 === 7)
      world.agenda.on(day(week * 7 + 4), 20, async () => {
        log?.(
          `week ${week + 1} of ${weeks}: ${world.tally.of('orders sent')} orders sent, ${world.tally.of('lenses implanted')} lenses implanted`,
        );
        for (const clinic of world.cast.clinics)
          for (const { what, against } of await look(world, clinic))
            for (const which of against) world.tally.problems.push(`week ${week + 1}: ${what}: ${which}`);
      });
  }
}

/** What a clinic's coordinator sees, and whether everything that must hold does. */
function look({ cast }: World, clinic: Clinic): Promise<Checked[]> {
  const coordinator = { ...clinic.staff.coordinator, clinicIds: [clinic.id] };
  return cast.database.work(coordinator, async (work) => checkClinic(work, await today(work)));
}

/** The same check of several clinics as one. */
function together(checks: readonly Checked[]): Checked[] {
  const found = new Map<string, Checked>();
  for (const { what, of, against } of checks) {
    const before = found.get(what);
    found.set(what, { what, of: (before?.of ?? 0) + of, against: [...(before?.against ?? []), ...against] });
  }
  return [...found.values()];
}

async function calibrated({ cast, calendars }: World): Promise<CountedShare | null> {
  const orders = [];
  for (const clinic of cast.clinics)
    orders.push(
      ...(await as(cast, clinic, 'auditor', ({ tx }) =>
        tx.lensOrder.findMany({ where: { clinicId: clinic.id, arrivedAt: { not: null } } }),
      )),
    );
  return calibrationOf(orders, ({ sentAt }, day) =>
    sentAt === null ? 1 : workingDaysFrom(sentAt, day, calendars.maker),
  );
}
