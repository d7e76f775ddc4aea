import { randomUUID } from 'node:crypto';
import { Webhook } from 'standardwebhooks';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  channels,
  eventDecisions,
  exchangeReasons,
  type OrderDetail,
} from '../../packages/contracts/src/index.js';
import {
  awaitedOf,
  caseStages,
  eyes,
  lensOwners,
  lensStates,
  parcelStates,
  transferStates,
  countStates,
  measurementKindNames,
  nextState,
  orderLifecycle,
  orderStates,
  returnLifecycle,
  returnStates,
  roles,
  stageOf,
  stepsFrom,
  type OrderEvent,
  type Role,
} from '../../packages/domain/src/index.js';
import { loadCase } from '../../apps/api/dist/cases/cases.store.js';
import { stageFacts } from '../../apps/api/dist/cases/refresh-stage.js';
import { networkSettings } from '../../apps/api/dist/platform/settings-of-network.js';
import { makeAsk, type Ask, type Told } from '../support/ask.js';
import { day } from '../support/eye.js';
import { openHouse, password, until, type House, type Person } from '../support/house.js';
import { makerVoice, type MakerVoice } from '../support/maker-voice.js';
import {
  implant,
  openScene,
  orderOf,
  playTo,
  reachable,
  sceneAt,
  scenery,
  specificationOf,
  type Scene,
} from '../support/scenes.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';

const why = 'The test asks for it.';
const people: Record<Role, string> = {
  surgeon: 'ilse',
  coordinator: 'una',
  inventory: 'oona',
  administrator: 'ada',
  auditor: 'ivo',
};

describe('the rules, over the API', () => {
  let house: House;
  let root: Superuser;
  let ask: Ask;
  let by: Record<Role, Person>;

  beforeAll(async () => {
    house = await openHouse({ environment: { DATABASE_POOL: '20' } });
    root = await asSuperuser(house.db);
    ask = makeAsk(house);
    const signedIn = await Promise.all(roles.map(async (role) => [role, await house.signIn(people[role])]));
    by = Object.fromEntries(signedIn) as Record<Role, Person>;
  });
  afterAll(async () => {
    await root?.close();
    await house?.close();
  });

  const step = (
    role: Role,
    thing: 'orders' | 'lenses' | 'returns' | 'cases',
    id: string,
    name: string,
    body: object,
  ) => ask('POST', `/api/${thing}/${id}/${name}`, { as: by[role], body });
  const one = async (sql: string, ...values: unknown[]) => (await root.rows(sql, values))[0]!;
  const caseVersion = async (id: string): Promise<number> =>
    (await one('select version from eye_case where id = $1', id))['version'];
  const tallies = { tried: 0 };

  const orderBody = async (scene: Scene, event: string): Promise<object> => {
    const { version, specificationHash } = await orderOf(scene);
    const bodies: Record<string, object> = {
      'request-changes': { why },
      sign: { specificationHash, password },
      acknowledge: { promisedOn: day(-20) },
      promise: { promisedOn: day(-20), why },
      decline: { why },
      ship: { tracking: 'PARCEL 1', expectedOn: day(-3) },
      cancel: { why },
      'ask-cancel': { why },
      'refuse-cancel': { why },
      'refuse-change': { why },
    };
    return { version, ...bodies[event] };
  };
  const orderSteps = [
    'submit', 'request-changes', 'sign', 'place', 'deliver', 'retry',
    'acknowledge', 'promise', 'decline', 'ship', 'cancel',
    'ask-cancel', 'accept-cancel', 'refuse-cancel', 'ask-change', 'withdraw-change', 'accept-change', 'refuse-change',
  ] as const; // prettier-ignore

  /** A step that the table allows is offered only where there is something for it to act on. */
  const hasSomethingToActOn = (event: OrderEvent, order: OrderDetail): boolean => {
    // What could not be sent may be handed over by hand; a lens of the shelf is taken on the lens that fits.
    if (event === 'deliver') return order.maker.channel === 'by_hand' || order.state === 'send_failed';
    if (event === 'fill') return false;
    if (event === 'ask-change') return order.toldNeedBy !== order.needBy;
    if (event === 'accept-change' || event === 'refuse-change') return order.change !== null;
    return true;
  };

  it.each(reachable)(
    'let nobody but the right role move an order that is %s',
    { timeout: 120_000 },
    async (state) => {
      const byMessage = ['send_failed', 'disputed'].includes(state);
      const scene = await sceneAt(house, state, { maker: byMessage ? 'QUILLON' : 'FENNICK' });
      const before = await orderOf(scene);
      expect(before.state).toBe(state);
      for (const role of roles) {
        const shown = await ask('GET', `/api/orders/${scene.orderId}`, { as: by[role] });
        expect(shown.json.steps, role).toEqual(
          stepsFrom(orderLifecycle, state, role)
            .map(({ event }) => event)
            .filter((event) => hasSomethingToActOn(event, shown.json)),
        );
        const tried = orderSteps.map(async (event) => {
          let refusal: { code?: string; kind?: string } | null = null;
          try {
            nextState(orderLifecycle, state, event, role);
          } catch (error) {
            refusal = error as { code: string; kind: string };
          }
          // Who gives an order by hand to a maker that takes messages is told so first.
          if (event === 'deliver' && byMessage && state !== 'send_failed')
            refusal = { kind: 'refused', code: 'order.sent-by-message' };
          if (refusal === null) return;
          const told = await step(role, 'orders', scene.orderId, event, await orderBody(scene, event));
          tallies.tried += 1;
          const status = { forbidden: 403, conflict: 409, refused: 422 }[refusal.kind ?? ''];
          expect([told.status, told.json.code], `${role} ${event} ${state} ${told.text}`).toEqual([
            status,
            refusal.code,
          ]);
        });
        await Promise.all(tried);
      }
      expect(await orderOf(scene)).toEqual(before);
    },
  );

  it('let nobody but the right role move a lens', { timeout: 120_000 }, async () => {
    const scenes = {
      reserved: await sceneAt(house, 'accepted'),
      quarantined: await sceneAt(house, 'quarantined'),
      implanted: await sceneAt(house, 'accepted'),
      returning: await sceneAt(house, 'rejected'),
    };
    await implant(scenes.implanted);
    const allowed: Record<string, readonly [role: Role, name: string][]> = {
      reserved: [],
      implanted: [],
      quarantined: [
        ['surgeon', 'release'],
        ['surgeon', 'reject'],
        ['inventory', 'reject'],
      ],
      returning: [],
    };
    for (const [state, scene] of Object.entries(scenes)) {
      const before = await one('select state, version from lens_unit where id = $1', scene.lensId);
      for (const role of roles)
        for (const name of ['release', 'reject', 'return', 'discard']) {
          if (allowed[state]!.some(([who, what]) => who === role && what === name)) continue;
          const body = { version: before['version'], ...(name === 'return' ? { reason: why } : { why }) };
          const told = await step(role, 'lenses', scene.lensId, name, body);
          tallies.tried += 1;
          expect([403, 409, 422], `${role} ${name} ${state} ${told.text}`).toContain(told.status);
        }
      expect(await one('select state, version from lens_unit where id = $1', scene.lensId)).toEqual(before);
    }
  });

  it('let nobody but the right role move a return, in any of its states', { timeout: 120_000 }, async () => {
    const bodies: Record<string, object> = {
      authorise: { authorisation: 'RA-1' },
      'hand-over': { tracking: 'BACK 1' },
      receive: {},
      credit: { amount: '1480.00' },
      'write-off': { why },
    };
    const scene = await sceneAt(house, 'rejected');
    const row = () => one('select id, state, version from lens_return where lens_id = $1', scene.lensId);
    for (const next of ['authorise', 'hand-over', 'receive', 'credit', '']) {
      const before = await row();
      for (const role of roles)
        for (const name of Object.keys(bodies)) {
          if (stepsFrom(returnLifecycle, before['state'], role).some(({ event }) => event === name)) continue;
          const told = await step(role, 'returns', before['id'], name, {
            version: before['version'],
            ...bodies[name],
          });
          tallies.tried += 1;
          expect([403, 409], `${role} ${name} ${before['state']} ${told.text}`).toContain(told.status);
        }
      expect(await row()).toEqual(before);
      if (next === '') break;
      const stale = await step('inventory', 'returns', before['id'], next, { version: 77, ...bodies[next] });
      expect(stale).toMatchObject({ status: 409, json: { code: 'return.moved' } });
      const done = await step('inventory', 'returns', before['id'], next, {
        version: before['version'],
        ...bodies[next],
      });
      expect(done.status, done.text).toBe(200);
    }
    expect((await row())['state']).toBe('credited');
    console.log(`Rules: ${tallies.tried} steps refused to the wrong role or in the wrong state`);
  });

  it('refuse every step on what has moved since, with 409', async () => {
    for (const [state, role, event] of [
      ['draft', 'coordinator', 'submit'],
      ['submitted', 'surgeon', 'sign'],
      ['submitted', 'surgeon', 'request-changes'],
      ['approved', 'coordinator', 'place'],
      ['send_failed', 'coordinator', 'retry'],
      ['draft', 'coordinator', 'cancel'],
    ] as const) {
      const scene = await sceneAt(house, state);
      const body = { ...(await orderBody(scene, event)), version: 77 };
      const told = await step(role, 'orders', scene.orderId, event, body);
      expect(told, event).toMatchObject({ status: 409, json: { code: 'order.moved' } });
      expect(told.json.facts).toMatchObject({ state });
    }
    const { caseId, lensId } = await sceneAt(house, 'quarantined');
    const seen = { version: 77, why };
    expect(await step('surgeon', 'lenses', lensId, 'release', seen)).toMatchObject({
      status: 409,
      json: { code: 'lens.moved' },
    });
    for (const [name, body] of [
      ['theatre-date', { version: 77, theatreOn: null }],
      ['withdraw', seen],
      ['close', seen],
      ['exchange', { version: 77, reason: 'vault_high', note: why }],
      ['exchange/end', seen],
      ['implantation', { version: 77, lensId, serial: 'X', performedOn: day(0), axisDeg: 1 }],
    ] as const)
      expect(await step('surgeon', 'cases', caseId, name, body), name).toMatchObject({
        status: 409,
        json: { code: 'case.moved' },
      });
  });

  it('keep a signature through what changes no specification, and void it by what does', async () => {
    const scene = await sceneAt(house, 'approved');
    const standing = () =>
      root.rows('select specification_hash as hash, voided_why from signature where order_id = $1', [
        scene.orderId,
      ]);
    const version = await caseVersion(scene.caseId);
    const dated = await step('coordinator', 'cases', scene.caseId, 'theatre-date', {
      version,
      theatreOn: day(-60),
    });
    expect(dated.status).toBe(200);
    const measured = await step('coordinator', 'cases', scene.caseId, 'measurements', {
      kind: 'health', takenOn: day(1), device: 'slit lamp', values: { pressureMmHg: 14 },
    }); // prettier-ignore
    expect(measured.status).toBe(201);
    const { specificationHash, state } = await orderOf(scene);
    expect(state).toBe('approved');
    expect(await standing()).toEqual([{ hash: specificationHash, voided_why: null }]);
    await scenery.plan(scene, -1);
    expect((await orderOf(scene)).state).toBe('draft');
    expect(await standing()).toEqual([
      { hash: specificationHash, voided_why: 'The specification was changed after it was signed.' },
    ]);
    const placed = await step('coordinator', 'orders', scene.orderId, 'place', {
      version: (await orderOf(scene)).version,
    });
    expect(placed.status).toBe(409);
  });

  it('bind a signature to exactly what was signed, even against who owns the database', async () => {
    const scene = await sceneAt(house, 'approved');
    await root.rows(
      `update lens_order set specification = jsonb_set(specification, '{axisDeg}', '31') where id = $1`,
      [scene.orderId],
    );
    const { version } = await orderOf(scene);
    const told = await step('coordinator', 'orders', scene.orderId, 'place', { version });
    expect(told).toMatchObject({ status: 409, json: { code: 'order.unsigned' } });
    expect((await orderOf(scene)).state).toBe('approved');
    expect(
      await root.rows(`select 1 from outbox_event where payload ->> 'orderId' = $1`, [scene.orderId]),
    ).toEqual([]);
  });

  it('ask for a written reason for every stop, and keep it', async () => {
    const scene = await playTo(
      await openScene(house, { birthYear: new Date().getUTCFullYear() - 17 }),
      'submitted',
    );
    const shown = await ask('GET', `/api/orders/${scene.orderId}`, { as: by.surgeon });
    expect(shown.json.stops.map(({ code }: { code: string }) => code)).toEqual(['endothelium', 'age']);
    const { version, specificationHash } = shown.json;
    const sign = (reasons: object) =>
      step('surgeon', 'orders', scene.orderId, 'sign', { version, specificationHash, password, reasons });
    const reasons = {
      age: 'Both eyes progress; the parents agree.',
      endothelium: 'Counted twice; told to them.',
    };
    expect(await sign({ age: reasons.age })).toMatchObject({
      status: 422,
      json: { code: 'order.reason-needed', errors: [{ pointer: '/reasons/endothelium' }] },
    });
    expect((await sign({})).status).toBe(422);
    expect((await sign({ ...reasons, age: 'x' })).status).toBe(400);
    expect((await orderOf(scene)).state).toBe('submitted');
    expect((await sign(reasons)).json).toMatchObject({ state: 'approved', signatures: [{ reasons }] });
  });

  describe('for what makers say', () => {
    let say: MakerVoice;
    beforeAll(async () => {
      say = await makerVoice(house, root, ask, 'QUILLON');
    });
    const acknowledged = async (scene: Scene, changed: object = {}) => {
      const { number } = await orderOf(scene);
      const { eye, designCode, designVersion, sphereD, cylinderD, axisDeg, lengthMm } =
        await specificationOf(scene);
      return {
        type: 'order.acknowledged',
        sentAt: new Date().toISOString(),
        orderNumber: number,
        echo: {
          eye: eye === 'OD' ? 'RIGHT' : 'LEFT',
          lens: { designCode, designVersion, sphereD, cylinderD, axisDeg, lengthMm, ...changed },
        },
        promisedOn: day(-20),
      };
    };

    it('take a message once, however often it comes', async () => {
      const scene = await sceneAt(house, 'sent');
      const message = await acknowledged(scene);
      const id = `msg_${randomUUID()}`;
      const answers = await Promise.all(Array.from({ length: 8 }, () => say(message, { id })));
      expect(answers.map(({ status }) => status)).toEqual(Array(8).fill(200));
      expect(answers.filter(({ json }) => json.applied)).toHaveLength(1);
      const once = await orderOf(scene);
      const counts = await root.counts();
      expect((await say(message, { id })).json).toEqual({ applied: false });
      expect(await orderOf(scene)).toEqual(once);
      expect(await root.counts()).toEqual(counts);
      expect((await say(message)).status).toBe(409);
      expect(await root.counts()).toEqual(counts);
    });

    it('ask for one again that outran our own sending, and take it then', async () => {
      const scene = await sceneAt(house, 'queued');
      const message = await acknowledged(scene);
      const id = `msg_${randomUUID()}`;
      expect((await say(message, { id })).status).toBe(503);
      await playTo(scene, 'sent');
      expect((await say(message, { id })).json).toEqual({ applied: true });
    });

    it('stop an order whose echo differs, and show why to those who must clear it', async () => {
      for (const changed of [
        { axisDeg: 31 },
        { sphereD: -9.25 },
        { lengthMm: 13.25 },
        { designVersion: 2 },
      ]) {
        const scene = await sceneAt(house, 'sent');
        expect((await say(await acknowledged(scene, changed))).json).toEqual({ applied: true });
        const [field] = Object.keys(changed);
        const shown = await ask('GET', `/api/orders/${scene.orderId}`, { as: by.coordinator });
        expect(shown.json).toMatchObject({ state: 'disputed', note: expect.stringContaining(field!) });
        const { json } = await ask('GET', '/api/today', { as: by.coordinator });
        expect(json.sendFailed.map(({ id }: { id: string }) => id)).toContain(scene.orderId);
        const shipped = {
          type: 'order.shipped',
          sentAt: new Date().toISOString(),
          orderNumber: shown.json.number,
        };
        const unit = { serial: 'S9', lot: 'L9', expiresOn: day(-900), gtin: null, labelText: 'S9' };
        expect((await say({ ...shipped, trackingReference: 'P', expectedOn: day(-3), unit })).status).toBe(
          409,
        );
      }
    });

    it('hear nobody who can’t sign as this maker, and nothing old', async () => {
      const scene = await sceneAt(house, 'sent');
      const message = await acknowledged(scene);
      const other = `whsec_${Buffer.from('another secret of 24 byt').toString('base64')}`;
      const before = await root.counts();
      expect((await say(message, { signedWith: other })).status).toBe(401);
      expect((await say(message, { as: 'OSTREL' })).status).toBe(401);
      expect((await say(message, { as: 'FENNICK' })).status).toBe(401);
      expect((await say(message, { as: 'NOBODY' })).status).toBe(401);
      expect((await say(message, { at: new Date(Date.now() - 3_600_000) })).status).toBe(401);
      expect((await ask('POST', '/api/maker-messages/QUILLON', { body: message })).status).toBe(401);
      const signature = new Webhook(other).sign('msg_1', new Date(), JSON.stringify(message));
      expect(signature).toMatch(/^v1,/);
      const ostrel = await makerVoice(house, root, ask, 'OSTREL');
      expect((await ostrel(message)).status).toBe(404);
      expect((await say({ ...message, orderNumber: 'LE-0000-0000' })).status).toBe(404);
      expect(await root.counts()).toEqual(before);
      expect((await orderOf(scene)).state).toBe('sent');
    });
  });

  describe('for what goes into an eye', () => {
    const put = async (scene: Scene, changed: object = {}): Promise<Told> =>
      step('surgeon', 'cases', scene.caseId, 'implantation', {
        version: await caseVersion(scene.caseId),
        lensId: scene.lensId,
        serial: scene.unit?.serial ?? 'X',
        performedOn: day(0),
        axisDeg: 30,
        ...changed,
      });
    const refusedAs = (told: Told, status: number, code: string): void =>
      expect(told, told.text).toMatchObject({ status, json: { code } });

    it('take only an accepted, unexpired, reserved lens of that case and eye', async () => {
      const scene = await sceneAt(house, 'accepted');
      const other = await sceneAt(house, 'accepted');
      refusedAs(
        await put(scene, { lensId: other.lensId, serial: other.unit!.serial }),
        422,
        'implant.other-case',
      );
      refusedAs(await put(scene, { serial: 'ELSE1' }), 422, 'implant.other-serial');
      refusedAs(await put(scene, { performedOn: day(-1) }), 422, 'implant.future');
      refusedAs(await put(scene, { performedOn: day(1) }), 422, 'implant.before-arrival');
      refusedAs(await put(scene, { lensId: randomUUID() }), 404, 'lens.missing');
      const quarantined = await sceneAt(house, 'quarantined');
      refusedAs(await put(quarantined), 422, 'implant.not-reserved');
      const was = await one('select expires_on::text as day from lens_unit where id = $1', scene.lensId);
      await root.rows('update lens_unit set expires_on = current_date - 1 where id = $1', [scene.lensId]);
      refusedAs(await put(scene), 422, 'implant.expired');
      await root.rows(
        `update lens_unit set expires_on = $2, lens = jsonb_set(lens, '{eye}', '"OS"') where id = $1`,
        [scene.lensId, was['day']],
      );
      refusedAs(await put(scene), 422, 'implant.other-eye');
      await root.rows(`update lens_unit set lens = jsonb_set(lens, '{eye}', '"OD"') where id = $1`, [
        scene.lensId,
      ]);
      expect((await put(scene)).json).toMatchObject({ stage: 'implanted' });
    });

    it('never take two lenses in one eye, nor one lens in two', async () => {
      const scene = await sceneAt(house, 'accepted');
      const planned = await scenery.plan(scene).catch((error: { code: string }) => error.code);
      expect(planned).toBe('plan.lens-here');
      const other = await sceneAt(house, 'accepted');
      await implant(scene);
      await root.rows('update lens_unit set case_id = $2 where id = $1', [other.lensId, scene.caseId]);
      refusedAs(
        await put(scene, { lensId: other.lensId, serial: other.unit!.serial }),
        409,
        'implant.lens-in-eye',
      );
      const twice = (lensId: string, caseId: string) =>
        root.rows(
          `insert into implantation (clinic_id, id, case_id, lens_id, surgeon_id, performed_on, axis_deg, recorded_at)
           select clinic_id, gen_random_uuid(), $2, $1, surgeon_id, performed_on, axis_deg, recorded_at
           from implantation where lens_id = $3`,
          [lensId, caseId, scene.lensId],
        );
      await expect(twice(other.lensId, scene.caseId)).rejects.toThrow(/one_lens_in_an_eye/);
      await expect(twice(scene.lensId, other.caseId)).rejects.toThrow(/one_eye_for_a_lens/);
    });

    const race = async (runners: number, run: () => Promise<Told>): Promise<Record<number, number>> => {
      const answers = await Promise.all(Array.from({ length: runners }, run));
      const counted: Record<number, number> = {};
      for (const { status } of answers) counted[status] = (counted[status] ?? 0) + 1;
      return counted;
    };

    it(
      'give a lens to one of 200 who implant it at once, and tell 199 that it has moved',
      { timeout: 120_000 },
      async () => {
        const scene = await sceneAt(house, 'accepted');
        const version = await caseVersion(scene.caseId);
        const counted = await race(200, () => put(scene, { version }));
        expect(counted).toEqual({ 200: 1, 409: 199 });
        expect(await root.rows('select 1 from implantation where lens_id = $1', [scene.lensId])).toHaveLength(
          1,
        );
        console.log(`Race to implant one lens: ${JSON.stringify(counted)}`);
      },
    );

    it('take a parcel in for one of 200 who receive it at once', { timeout: 120_000 }, async () => {
      const scene = await sceneAt(house, 'shipped');
      const label = await scenery.packOf(scene);
      const counted = await race(200, () =>
        step('inventory', 'orders', scene.orderId, 'receive', {
          label,
          outcome: 'accept',
          location: 'shelf 1',
        }),
      );
      expect(counted).toEqual({ 200: 1, 409: 199 });
      expect(await root.rows('select 1 from lens_unit where order_id = $1', [scene.orderId])).toHaveLength(1);
      console.log(`Race to receive one parcel: ${JSON.stringify(counted)}`);
    });

    it('neither return nor discard a lens whose quarantine nobody has decided', async () => {
      const scene = await sceneAt(house, 'quarantined');
      refusedAs(
        await step('inventory', 'lenses', scene.lensId, 'return', { version: 1, reason: why }),
        422,
        'lens.undecided',
      );
      refusedAs(
        await step('inventory', 'lenses', scene.lensId, 'discard', { version: 1, why }),
        422,
        'lens.undecided',
      );
      expect((await step('surgeon', 'lenses', scene.lensId, 'release', { version: 1, why })).json.state).toBe(
        'reserved',
      );
    });
  });

  it('are written once: the database’s enumerations are the domain’s arrays', async () => {
    const rows = await root.rows(
      `select t.typname as name, array_agg(e.enumlabel::text order by e.enumsortorder) as labels
       from pg_type t join pg_enum e on e.enumtypid = t.oid join pg_namespace n on n.oid = t.typnamespace
       where n.nspname = 'public' group by 1`,
    );
    expect(Object.fromEntries(rows.map(({ name, labels }) => [name, labels]))).toEqual({
      Eye: eyes,
      CaseStage: caseStages,
      MeasurementKind: measurementKindNames,
      LensState: lensStates,
      ExchangeReason: exchangeReasons,
      ReturnState: returnStates,
      Role: roles,
      Channel: channels,
      EventDecision: eventDecisions,
      OrderState: orderStates,
      LensOwner: lensOwners,
      ParcelState: parcelStates,
      TransferState: transferStates,
      CountState: countStates,
    });
  });

  it('give every case the stage that its facts give it', async () => {
    const clinic = house.network.clinics.find(({ code }) => code === 'EST')!;
    const stages = new Set<string>();
    await house.database.work(clinic.staff.coordinator, async (work) => {
      const { stableMonthsAtLeast } = await networkSettings(work);
      for (const { id } of await work.tx.eyeCase.findMany({ select: { id: true } })) {
        const row = await loadCase(work, id);
        const facts = stageFacts(row, new Date().toISOString().slice(0, 10), stableMonthsAtLeast);
        expect([row.stage, row.awaited], row.code).toEqual([stageOf(facts), awaitedOf(facts)]);
        stages.add(row.stage);
      }
    });
    for (const stage of ['planning', 'awaiting_approval', 'on_order', 'lens_here', 'implanted'])
      expect(stages).toContain(stage);
  });
});

describe('a patient’s name', () => {
  const name = 'Zebulon Quastermann';
  let house: House;
  let root: Superuser;
  beforeAll(async () => {
    house = await openHouse({ dispatching: true });
    root = await asSuperuser(house.db);
  });
  afterAll(async () => {
    await root?.close();
    await house?.close();
  });

  it('stands nowhere but sealed: no table, no queue, no outbox, no record, no maker has it', async () => {
    const scene = await openScene(house, { patient: name, codeName: 'Basalt 7' });
    await playTo(scene, 'approved');
    await scenery.place(scene);
    const { number } = await orderOf(scene);
    await until(async () => (await orderOf(scene)).state === 'shipped', 'the shipping notice');
    const una = await house.signIn('una');
    const identity = await una.get(`/api/cases/${scene.caseId}/identity`);
    expect(identity.body).toMatchObject({ name });
    const tables = await root.rows(
      `select format('%I.%I', schemaname, tablename) as name from pg_tables
       where schemaname not in ('pg_catalog', 'information_schema')`,
    );
    expect(tables.some(({ name: table }) => String(table).startsWith('bullmq.'))).toBe(true);
    const holding = async (word: string): Promise<string[]> => {
      const found: string[] = [];
      for (const { name: table } of tables) {
        const [row] = await root.rows(`select count(*)::int as n from ${table} t where t::text ilike $1`, [
          `%${word}%`,
        ]);
        if (row!['n'] > 0) found.push(table as string);
      }
      return found.sort();
    };
    for (const part of ['Zebulon', 'Quastermann', Buffer.from(name).toString('base64').slice(0, 20)])
      expect(await holding(part), part).toEqual([]);
    // The search itself finds what is there.
    expect(await holding('Basalt 7')).toEqual(['public.patient']);
    expect(await holding(number)).toEqual(
      expect.arrayContaining(['public.lens_order', 'public.audit_entry']),
    );
    const told = await (await fetch(`${house.simulator!.url}/makers/QUILLON/orders`)).text();
    expect(told).toContain(number);
    for (const word of ['Zebulon', 'Quastermann', 'Basalt', '1994-02-03']) expect(told).not.toContain(word);
  });
});
