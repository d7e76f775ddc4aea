import fc from 'fast-check';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkClinic } from '../../apps/api/dist/simulate/invariants.queries.js';
import { verifyChains } from '../../apps/api/dist/platform/verify-chain.js';
import { castOf, implant, openScene, playTo, scenery } from '../support/scenes.js';
import { onCase, onOrder, type Stage, type Tried } from './lifecycle/moves.js';
import { onwardOf } from './lifecycle/onward.js';
import { lensesInTwoEyes, replay, unsignedOrders } from './lifecycle/replay.js';
import { digest, lookAt, openWorld, people, type Hand, type Seen, type World } from './lifecycle/world.js';

const full = process.env['FULL'] !== undefined;
const runs = Number(process.env['RUNS'] ?? (full ? 60 : 3));
const seed = Number(process.env['SEED'] ?? (full ? Date.now() % 1_000_000 : 4));
const moves = [...Object.keys(onOrder), ...Object.keys(onCase)];

/** One attempt: the usual next step or any step at all, by anybody, on what was seen now or a while ago. */
const attempt = fc.record({
  on: fc.nat(1),
  usual: fc.boolean(),
  usualMove: fc.nat(30),
  move: fc.constantFrom(...moves),
  hand: fc.constantFrom(...(Object.keys(people) as Hand[])),
  stale: fc.integer({ min: 0, max: 9 }).map((n) => n === 0),
});
type Wish = typeof attempt extends fc.Arbitrary<infer T> ? T : never;
/** Attempts that are made at the same moment, mostly of the same thing: that is where people get in each other's way. */
const rounds = fc.array(fc.array(attempt, { minLength: 1, maxLength: 4 }), {
  minLength: 25,
  maxLength: full ? 90 : 45,
  size: 'max',
});

describe('orders, lenses and cases under many hands at once', () => {
  let world: World;
  const tally = { runs: 0, tried: 0, taken: 0, refused: 0, conflict: 0, silent: 0 };
  const steps = new Map<string, number>();
  const statesSeen = new Set<string>();
  const personal = new Map<string, number>();

  beforeAll(async () => {
    world = await openWorld();
  });
  afterAll(async () => {
    await world?.root.close();
    await world?.house.close();
  });

  async function beginTwoCases(): Promise<Stage & { caseIds: string[] }> {
    const scenes = [
      await openScene(world.house, { maker: 'OSTREL' }),
      await openScene(world.house, { maker: tally.runs % 2 === 0 ? 'OSTREL' : 'FENNICK' }),
    ];
    for (const scene of scenes) await scenery.plan(scene);
    // Every other run has a lens in one eye from the start: few would get through an exchange otherwise.
    if (tally.runs % 2 === 0) await implant(await playTo(scenes[0]!, 'accepted'));
    return {
      world,
      cast: castOf(world.house),
      clinic: scenes[0]!.clinic,
      caseIds: scenes.map((s) => s.caseId),
    };
  }

  /** Steps of people on record, by their name. */
  const stepsOnRecord = (): Promise<{ step: string; n: number }[]> =>
    world.root.rows(
      `select substr(action, 7) as step, count(*)::int as n from audit_entry
       where action like 'order.%' and actor_id is not null group by 1`,
    );

  /** Makes one attempt on what its maker saw. */
  function make(stage: Stage, wish: Wish, seen: Seen[]) {
    const mine = seen[wish.on]!;
    const other = seen[1 - wish.on]!;
    const usual = onwardOf(mine);
    const [hand, move] =
      wish.usual && usual.length > 0 ? usual[wish.usualMove % usual.length]! : [wish.hand, wish.move];
    const ofOrder = onOrder[move];
    if (ofOrder !== undefined && mine.order === null) return null;
    return {
      move,
      going: ofOrder ? ofOrder(stage, hand, mine.order!, other) : onCase[move]!(stage, hand, mine, other),
    };
  }

  function count(move: string, tried: Tried): void {
    expect(tried.status, `${tried.what}: ${tried.detail}`).toBeLessThan(500);
    expect(tried.status, `${tried.what}: ${tried.detail}`).not.toBe(401);
    tally.tried += 1;
    tally[tried.ending] += 1;
    if (tried.ending === 'taken') steps.set(move, (steps.get(move) ?? 0) + 1);
    const step = /^\/api\/orders\/:id\/(.+)$/.exec(tried.what)?.[1];
    if (tried.ending === 'taken' && step !== undefined && step !== 'receive')
      personal.set(step, (personal.get(step) ?? 0) + 1);
  }

  async function play(plays: readonly (readonly Wish[])[]) {
    tally.runs += 1;
    const earlier = await stepsOnRecord();
    const stage = await beginTwoCases();
    // What the beginning itself took is no attempt.
    for (const { step, n } of await stepsOnRecord()) {
      const begun = n - (earlier.find((row) => row.step === step)?.n ?? 0);
      if (begun > 0) personal.set(step, (personal.get(step) ?? 0) + begun);
    }
    const { caseIds } = stage;
    const lookAtBoth = (): Promise<Seen[]> => lookAt(world, caseIds);
    let stale = await lookAtBoth();
    for (const wishes of plays) {
      const fresh = await lookAtBoth();
      for (const { order, lenses, returns, stage: at } of fresh)
        [
          `case ${at}`,
          `order ${order?.state}`,
          ...lenses.map((l) => `lens ${l.state}`),
          ...returns.map((r) => `return ${r.state}`),
        ].forEach((state) => statesSeen.add(state));
      const before = await digest(world, caseIds);
      const going = wishes.flatMap((wish) => make(stage, wish, wish.stale ? stale : fresh) ?? []);
      const ended = await Promise.all(going.map(({ going }) => going));
      ended.forEach((tried, i) => count(going[i]!.move, tried));
      if (ended.every(({ ending }) => ending !== 'taken')) {
        expect(await digest(world, caseIds), 'a refused step left a trace').toEqual(before);
        tally.silent += ended.length;
      }
      if (tally.tried % 7 === 0) stale = fresh;
    }
    expect(await replay(world, caseIds)).toEqual([]);
    expect(await unsignedOrders(world, caseIds)).toEqual([]);
    expect(await lensesInTwoEyes(world)).toEqual([]);
  }

  it('never get into an illegal state, whoever comes first', { timeout: 3_600_000 }, async () => {
    await fc.assert(fc.asyncProperty(rounds, play), { numRuns: runs, seed, endOnFailure: true });
    // What was answered with success is on record once, and nothing else is.
    const recorded = await stepsOnRecord();
    for (const [step, n] of personal)
      if (step in onOrder && step !== 'ask-change')
        expect({ step, n: recorded.find((row) => row.step === step)?.n }).toEqual({ step, n });
    const clinicIds = world.house.network.clinics.map(({ id }) => id);
    const alerts = { atRisk: [], toReceive: [], sendFailed: [] } as never;
    const auditor = { kind: 'auditor' as const, personId: null, name: 'Test', clinicIds };
    const checks = await world.house.database.work(auditor, (work) => checkClinic(work, alerts));
    const held = checks.filter(({ what }) => what.includes('lens accounted') || what.includes('next step'));
    expect(held).toHaveLength(2);
    for (const { what, against } of held) expect(against, what).toEqual([]);
    const client = new pg.Client({ connectionString: world.house.db.superuserUrl });
    await client.connect();
    expect((await verifyChains(client)).flatMap(({ faults }) => faults)).toEqual([]);
    await client.end();
    const { tried, taken, refused, conflict, silent } = tally;
    console.log(
      `lifecycle: seed ${seed}, ${runs} runs, ${tried} attempts: ${taken} taken (${steps.size} kinds of step), ` +
        `${refused} refused by a rule, ${conflict} lost to somebody quicker; ${silent} refusals compared byte by byte; ` +
        `${statesSeen.size} states seen`,
    );
    if (full) console.log([...statesSeen].sort().join(', '));
    // Worth something only if it gets far and if people do get in each other's way.
    const rare = ['order quarantined', 'order change_requested', 'return credited'];
    for (const state of [
      'order sent',
      'order accepted',
      'lens reserved',
      'lens implanted',
      ...(runs >= 40 ? rare : []),
    ])
      expect(statesSeen).toContain(state);
    expect(conflict).toBeGreaterThan(20);
    expect(taken).toBeGreaterThan(40);
  });
});
