import { addMeasurement } from '../cases/measure.js';
import { loadCase, lensInEye } from '../cases/cases.store.js';
import { closeCase } from '../cases/end-case.js';
import { recordImplantation } from '../cases/record-implantation.js';
import { as, asMaker } from '../demo/cast.js';
import { makers } from '../demo/network.js';
import { openExchange } from '../exchanges/open-exchange.js';
import { fromDateOrNull } from '../platform/plain-date.js';
import { authoriseReturn, creditReturn, handOverReturn, receiveReturn } from '../returns/move-return.js';
import { startReturn } from '../returns/start-return.js';
import { assumptions } from './assumptions.js';
import { bookTheatre, countWaiting, later, orderLens, today, type OneCase } from './one-case.js';
import { asksForExchange, naiveLengthMm, trueVaultUm } from './true-eye.js';

/** The day of theatre: the lens goes in if it is here, else the date is lost and another one is booked. */
export async function operate(one: OneCase, theatreOn: string): Promise<void> {
  const { scene, world } = one;
  const { cast, clinic, caseId } = scene;
  const row = await as(cast, clinic, 'surgeon', (work) => loadCase(work, caseId));
  if (fromDateOrNull(row.theatreOn) !== theatreOn) return;
  const lens = await as(cast, clinic, 'surgeon', ({ tx }) =>
    tx.lensUnit.findFirst({ where: { caseId, state: 'reserved' } }),
  );
  const here = lens !== null;
  if (theatreOn === one.firstTheatreOn) countWaiting(one, !here, theatreOn);
  if (!here) {
    world.tally.add('theatre dates lost');
    return bookTheatre(one);
  }
  const before = lensInEye(row);
  await as(cast, clinic, 'surgeon', (work) =>
    recordImplantation(work, caseId, {
      version: row.version,
      lensId: lens.id,
      serial: lens.serial,
      performedOn: today(one),
      axisDeg: (lens.lens as { axisDeg: number | null }).axisDeg ?? 180,
    }),
  );
  world.tally.add('lenses implanted');
  const { lengthMm } = lens.lens as { lengthMm: number };
  if (before === undefined) {
    countSizes(one, lengthMm);
    followUp(one, trueVaultUm(one.eye, lengthMm), true);
    return;
  }
  sendBackAll(one);
  const first = trueVaultUm(one.eye, (before.lens.lens as { lengthMm: number }).lengthMm);
  const change =
    trueVaultUm({ ...one.eye, deviationUm: 0 }, lengthMm) -
    trueVaultUm({ ...one.eye, deviationUm: 0 }, (before.lens.lens as { lengthMm: number }).lengthMm);
  followUp(one, Math.max(0, first + change + one.chance.normal() * assumptions.exchangeVaultSdUm), false);
}

function countSizes({ eye, world, scene }: OneCase, lengthMm: number): void {
  const lengths =
    makers.find(({ code }) => code === scene.maker.code)?.designs.flatMap(({ sheet }) => sheet.lengthsMm) ??
    [];
  world.tally.sizes.push({
    toolExchanged: asksForExchange(trueVaultUm(eye, lengthMm)),
    habitExchanged: asksForExchange(trueVaultUm(eye, naiveLengthMm(eye, lengths))),
  });
}

/** Visits after a week, a month and half a year; a vault far out at one month opens an exchange, once. */
function followUp(one: OneCase, vaultUm: number, first: boolean): void {
  const { agenda } = one.world;
  agenda.on(later(one, 5), 11, () => visit(one, vaultUm));
  agenda.on(later(one, 22), 11, async () => {
    await visit(one, vaultUm);
    if (first && asksForExchange(vaultUm)) await exchange(one, vaultUm);
  });
  agenda.on(later(one, 125), 11, async () => {
    const { cast, clinic, caseId } = one.scene;
    const row = await as(cast, clinic, 'surgeon', (work) => loadCase(work, caseId));
    if (row.stage !== 'follow_up') return;
    await as(cast, clinic, 'surgeon', (work) =>
      closeCase(work, caseId, { version: row.version, why: 'Half a year of follow-up, stable.' }),
    );
    one.world.tally.add('closed');
  });
}

async function visit(one: OneCase, vaultUm: number): Promise<void> {
  const { scene, chance } = one;
  const { cast, clinic, caseId } = scene;
  const read = Math.max(0, Math.round((vaultUm + chance.normal() * assumptions.vaultReadingSdUm) / 10) * 10);
  const day = today(one);
  await as(cast, clinic, 'coordinator', async (work) => {
    const row = await loadCase(work, caseId);
    if (lensInEye(row) === undefined || row.closedAt !== null) return;
    await addMeasurement(work, caseId, {
      kind: 'vault',
      takenOn: day,
      device: 'anterior-segment OCT',
      values: { vaultUm: Math.min(2000, read), lighting: 'bright' },
    } as never);
    await addMeasurement(work, caseId, {
      kind: 'refraction',
      takenOn: day,
      device: 'subjective, phoropter',
      values: { sphereD: 0, cylinderD: 0, vertexMm: 12, correctedDecimal: 0.8, uncorrectedDecimal: 0.63 },
    } as never);
  });
}

async function exchange(one: OneCase, vaultUm: number): Promise<void> {
  const { scene, world } = one;
  const { cast, clinic, caseId } = scene;
  await as(cast, clinic, 'surgeon', async (work) => {
    const { version } = await loadCase(work, caseId);
    await openExchange(work, caseId, {
      version,
      reason: vaultUm > assumptions.keepToUm ? 'vault_high' : 'vault_low',
      note: 'The vault at one month is far out of the band.',
    });
  });
  world.tally.add('exchanges opened');
  world.agenda.on(later(one, 1), 9, () => orderLens(one));
}

/** Every lens of the case that is to go back goes back, step by step, until its credit is booked. */
export function sendBackAll(one: OneCase): void {
  one.world.agenda.on(later(one, 2), 9, () => startReturns(one));
}

async function startReturns(one: OneCase): Promise<void> {
  const { cast, clinic, caseId } = one.scene;
  const ids = await as(cast, clinic, 'inventory', async (work) => {
    const lenses = await work.tx.lensUnit.findMany({
      where: {
        order: { caseId },
        OR: [{ state: 'explanted' }, { state: 'quarantined', order: { state: 'rejected' } }],
      },
      include: { returns: true },
    });
    const started: string[] = [];
    for (const lens of lenses) {
      const open = lens.returns.find(({ state }) => state === 'requested');
      if (open !== undefined) started.push(open.id);
      else if (lens.returns.length === 0)
        started.push(await startReturn(work, lens.id, { version: lens.version, reason: 'vault_high' }));
    }
    return started;
  });
  // Nobody listens at the makers’ doors in a virtual year: the notices, written by now, count as told.
  await as(cast, clinic, 'inventory', (work) =>
    work.tx.outboxEvent.updateMany({
      where: { topic: 'return.send', doneAt: null },
      data: { doneAt: work.now, publishedAt: work.now },
    }),
  );
  for (const id of ids) goBack(one, id);
}

/** Authorised, handed over, received and credited, each by whoever does it. */
function goBack(one: OneCase, returnId: string): void {
  const { scene, world } = one;
  const { cast, clinic } = scene;
  const { agenda, tally } = world;
  tally.add('returns opened');
  const version = (): Promise<{ version: number; amount: string; currency: string; makerId: string }> =>
    as(cast, clinic, 'inventory', async ({ tx }) => {
      const row = await tx.lensReturn.findFirstOrThrow({ where: { id: returnId } });
      const { creditExpected, currency, makerId } = row;
      return { version: row.version, amount: creditExpected.toFixed(2), currency, makerId };
    });
  agenda.on(later(one, 3), 9, async () => {
    const { version: seen } = await version();
    await as(cast, clinic, 'inventory', (work) =>
      authoriseReturn(work, returnId, {
        version: seen,
        authorisation: `A-${returnId.slice(-6).toUpperCase()}`,
      }),
    );
  });
  agenda.on(later(one, 5), 15, async () => {
    const { version: seen } = await version();
    await as(cast, clinic, 'inventory', (work) =>
      handOverReturn(work, returnId, { version: seen, tracking: `BACK ${returnId.slice(-5)}` }),
    );
  });
  agenda.on(later(one, 10), 9, async () => {
    const { version: seen, makerId } = await version();
    const maker = cast.makers.find(({ id }) => id === makerId) ?? scene.maker;
    await asMaker(cast, clinic, maker, (work) => receiveReturn(work, returnId, { version: seen }));
  });
  agenda.on(later(one, 20), 9, async () => {
    const { version: seen, amount, currency, makerId } = await version();
    const maker = cast.makers.find(({ id }) => id === makerId) ?? scene.maker;
    await asMaker(cast, clinic, maker, (work) =>
      creditReturn(work, returnId, { version: seen, amount, currency }),
    );
    tally.add('credits booked');
  });
}
