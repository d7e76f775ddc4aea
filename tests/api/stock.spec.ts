import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type {
  ArrivalReading,
  CaseDetail,
  FittingLenses,
  LensDetail,
  OrderDetail,
  Today,
  UnexpectedParcel,
} from '@lensferry/contracts';
import { day } from '../support/eye.js';
import { openHouse, type House, type Person } from '../support/house.js';
import { orderOf, playTo, scenery, sceneAt, specificationOf, type Scene } from '../support/scenes.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';

const why = 'The test asks for it.';
type Refusal = { code: string; detail: string };

describe('what stands on the shelf', () => {
  let house: House;
  let db: Superuser;
  let clerk: Person;
  let office: Person;
  let surgeon: Person;
  beforeAll(async () => {
    house = await openHouse();
    db = await asSuperuser(house.db);
    clerk = await house.signIn('oona');
    office = await house.signIn('una');
    surgeon = await house.signIn('ilse');
  });
  afterAll(async () => {
    await db?.close();
    await house?.close();
  });
  const lensNow = async (id: string) => (await clerk.get<LensDetail>(`/api/lenses/${id}`)).body;
  const caseNow = async (id: string) => (await office.get<CaseDetail>(`/api/cases/${id}`)).body;
  const free = async (id: string) =>
    clerk.post<LensDetail>(`/api/lenses/${id}/unreserve`, { version: (await lensNow(id)).version, why });

  /** An approved order that asks for exactly the lens that another scene's order brought. */
  async function twin(of: Scene): Promise<Scene> {
    const scene = await playTo(await sceneAt(house, 'draft', { clinic: of.clinic.code }), 'approved');
    const wanted = await specificationOf(of);
    const { caseCode } = await specificationOf(scene);
    await db.rows(
      `update lens_order set specification = $2, maker_id = $3, design_version_id = $4 where id = $1`,
      [
        scene.orderId,
        JSON.stringify({ ...wanted, caseCode }),
        (await orderOf(of)).makerId,
        (await orderOf(of)).designVersionId,
      ],
    );
    return scene;
  }

  it('is warned of when it would not last until surgery, however far ahead that is', async () => {
    const scene = await sceneAt(house, 'accepted');
    const { serial, expiresOn } = await lensNow(scene.lensId);
    const warned = async () =>
      (await clerk.get<Today>('/api/today')).body.expiring.find((lens) => lens.serial === serial);
    expect(await warned()).toBeUndefined();
    const theatreOn = `${Number(expiresOn.slice(0, 4)) + 1}-01-15`;
    const { version } = await caseNow(scene.caseId);
    await office.post(`/api/cases/${scene.caseId}/theatre-date`, { version, theatreOn });
    expect(await warned()).toMatchObject({ expiresOn, expiryWarning: { says: 'before_theatre', theatreOn } });
  });

  it('tells where a lens has been, and whose it is', async () => {
    const scene = await sceneAt(house, 'accepted');
    const before = await lensNow(scene.lensId);
    expect(before.custody.map(({ event, to }) => [event, to])).toEqual([
      ['receive', 'in_stock'],
      ['reserve', 'reserved'],
    ]);
    expect(before.owner).toBe('clinic');
    expect(before.steps).toEqual(expect.arrayContaining(['unreserve', 'owner']));
    const owned = await clerk.post(`/api/lenses/${scene.lensId}/owner`, {
      version: before.version,
      owner: 'consignment',
      why,
    });
    expect(owned.status).toBe(200);
    const after = await lensNow(scene.lensId);
    expect(after.custody.at(-1)).toMatchObject({ event: 'own', from: 'clinic', to: 'consignment', why });
    const same = { version: after.version, owner: 'consignment', why };
    expect(await clerk.post(`/api/lenses/${scene.lensId}/owner`, same)).toMatchObject({
      status: 400,
      body: { code: 'lens.owner-same' },
    });
    await free(scene.lensId);
    const back = await clerk.post<{ creditExpected: string }>(`/api/lenses/${scene.lensId}/return`, {
      version: (await lensNow(scene.lensId)).version,
      reason: 'wrong_lens',
    });
    expect(back.body.creditExpected).toBe('0.00');
  });

  it('lets a lens off its case, which then plans anew or is withdrawn, or takes it again', async () => {
    const scene = await sceneAt(house, 'accepted');
    expect((await caseNow(scene.caseId)).stage).toBe('lens_here');
    expect((await free(scene.lensId)).body).toMatchObject({ state: 'in_stock', case: null });
    const waiting = await caseNow(scene.caseId);
    expect(waiting).toMatchObject({ stage: 'planning', waiting: { for: 'plan' } });
    expect(waiting.actions).toEqual(expect.arrayContaining(['plan', 'withdraw']));
    expect(waiting.actions).not.toContain('implant');
    expect((await lensNow(scene.lensId)).steps[0]).toBe('reserve');
    const again = await clerk.post<LensDetail>(`/api/lenses/${scene.lensId}/reserve`, {
      version: (await lensNow(scene.lensId)).version,
      orderId: scene.orderId,
    });
    expect(again.body).toMatchObject({ state: 'reserved', case: { id: scene.caseId } });
    expect((await caseNow(scene.caseId)).stage).toBe('lens_here');
    await free(scene.lensId);
    const { version } = await caseNow(scene.caseId);
    const ended = await office.post(`/api/cases/${scene.caseId}/withdraw`, { version, why });
    expect(ended.body).toMatchObject({ stage: 'withdrawn' });
    // Nobody waits for it any more.
    expect((await lensNow(scene.lensId)).steps).not.toContain('reserve');
  });

  it('is proposed to an approved order that asks for exactly it, the first to expire on top', async () => {
    const late = await sceneAt(house, 'accepted');
    const soon = await sceneAt(house, 'accepted');
    const other = await sceneAt(house, 'accepted', { eye: 'OS' });
    for (const { lensId } of [late, soon, other]) await free(lensId);
    await db.rows('update lens_unit set expires_on = $2 where id = $1', [soon.lensId, day(-200)]);
    const asks = await twin(late);
    const path = `/api/orders/${asks.orderId}/fitting-lenses`;
    const { items } = (await office.get<FittingLenses>(path)).body;
    const ids = items.map(({ id }) => id);
    expect(ids.indexOf(soon.lensId)).toBeGreaterThanOrEqual(0);
    expect(ids.indexOf(soon.lensId)).toBeLessThan(ids.indexOf(late.lensId));
    expect(ids).not.toContain(other.lensId);
    expect(items.map(({ expiresOn }) => expiresOn)).toEqual(items.map(({ expiresOn }) => expiresOn).sort());

    const { body } = await clerk.post<LensDetail>(`/api/lenses/${soon.lensId}/reserve`, {
      version: (await lensNow(soon.lensId)).version,
      orderId: asks.orderId,
      why,
    });
    expect(body).toMatchObject({ state: 'reserved', case: { id: asks.caseId } });
    const order = (await office.get<OrderDetail>(`/api/orders/${asks.orderId}`)).body;
    expect(order).toMatchObject({ state: 'accepted', sentAt: null, price: '0.00' });
    expect(await caseNow(asks.caseId)).toMatchObject({ stage: 'lens_here' });
    expect((await caseNow(asks.caseId)).actions).not.toContain('plan');
    expect((await caseNow(soon.caseId)).stage).toBe('planning');
    const sent = await db.rows(`select 1 from outbox_event where payload ->> 'orderId' = $1`, [asks.orderId]);
    expect(sent).toEqual([]);
  });

  it('is refused to an order that asks for another lens, that nobody signed, or that is out', async () => {
    const scene = await sceneAt(house, 'accepted', { eye: 'OD' });
    await free(scene.lensId);
    const take = async (orderId: string) =>
      clerk.post<Refusal>(`/api/lenses/${scene.lensId}/reserve`, {
        version: (await lensNow(scene.lensId)).version,
        orderId,
        why,
      });
    const left = await sceneAt(house, 'approved', { eye: 'OS' });
    const refused = await take(left.orderId);
    expect(refused).toMatchObject({ status: 422, body: { code: 'lens.not-for-order' } });
    expect(refused.body.detail).toContain('eye');
    for (const state of ['submitted', 'sent'] as const)
      expect(await take((await sceneAt(house, state)).orderId)).toMatchObject({
        status: 422,
        body: { code: 'lens.order-not-open' },
      });
    const elsewhere = await sceneAt(house, 'approved', { clinic: 'NOR' });
    expect((await take(elsewhere.orderId)).status).toBe(404);
    expect((await lensNow(scene.lensId)).state).toBe('in_stock');
  });

  it('is refused to whom nobody waits for, and while it is on its way back', async () => {
    const scene = await sceneAt(house, 'accepted');
    await free(scene.lensId);
    const take = async () =>
      clerk.post<Refusal>(`/api/lenses/${scene.lensId}/reserve`, {
        version: (await lensNow(scene.lensId)).version,
        orderId: scene.orderId,
        why,
      });
    const { version } = await caseNow(scene.caseId);
    await office.post(`/api/cases/${scene.caseId}/withdraw`, { version, why });
    expect(await take()).toMatchObject({ status: 422, body: { code: 'lens.nobody-waits' } });
    const back = await sceneAt(house, 'accepted');
    await free(back.lensId);
    const lens = await lensNow(back.lensId);
    await clerk.post(`/api/lenses/${back.lensId}/return`, { version: lens.version, reason: 'wrong_lens' });
    const body = { version: (await lensNow(back.lensId)).version, orderId: back.orderId, why };
    expect(await clerk.post(`/api/lenses/${back.lensId}/reserve`, body)).toMatchObject({
      status: 422,
      body: { code: 'lens.return-open' },
    });
    expect((await lensNow(back.lensId)).custody[0]).toMatchObject({ event: 'receive', place: 'shelf 1' });
  });

  it('goes to one of two hundred who reach for it; the others are told', { timeout: 120_000 }, async () => {
    const scene = await sceneAt(house, 'accepted');
    await free(scene.lensId);
    const { version } = await lensNow(scene.lensId);
    const answers = await Promise.all(
      Array.from({ length: 200 }, () =>
        clerk.post<Refusal>(`/api/lenses/${scene.lensId}/reserve`, { version, orderId: scene.orderId }),
      ),
    );
    const count = (status: number) => answers.filter((answer) => answer.status === status).length;
    expect([count(200), count(409)]).toEqual([1, 199]);
  });

  it('never goes to an eye from a damaged pack', async () => {
    const scene = await sceneAt(house, 'shipped');
    const label = await scenery.packOf(scene);
    const taken = await clerk.post(`/api/orders/${scene.orderId}/receive`, {
      label,
      outcome: 'damaged',
      location: 'apart',
      why: 'The blister is crushed.',
    });
    expect(taken.body).toMatchObject({ state: 'quarantined' });
    const [lens] = await db.rows<{ id: string }>('select id from lens_unit where order_id = $1', [
      scene.orderId,
    ]);
    expect(await lensNow(lens!.id)).toMatchObject({
      damaged: true,
      steps: expect.arrayContaining(['reject']),
    });
    expect((await lensNow(lens!.id)).steps).not.toContain('release');
    expect(await surgeon.post(`/api/lenses/${lens!.id}/release`, { version: 1, why })).toMatchObject({
      status: 422,
      body: { code: 'lens.damaged' },
    });
    await clerk.post(`/api/lenses/${lens!.id}/reject`, { version: 1, why });
    const [back] = await db.rows<{ reason: string }>('select reason from lens_return where lens_id = $1', [
      lens!.id,
    ]);
    expect(back!.reason).toBe('damage');
  });

  it('tells which lenses were announced with a parcel and are not in it', async () => {
    const [one, two] = [await sceneAt(house, 'shipped'), await sceneAt(house, 'shipped')];
    await db.rows(`update lens_order set tracking = 'SHARED 7' where id = any ($1)`, [
      [one.orderId, two.orderId],
    ]);
    const label = await scenery.packOf(one);
    const read = await clerk.post<ArrivalReading>('/api/arrivals/read', { label });
    const { number } = await orderOf(two);
    expect(read.body.sameParcel).toEqual([number]);
    await clerk.post(`/api/orders/${one.orderId}/receive`, { label, outcome: 'accept', location: 'shelf 1' });
    const { missingFromParcel } = (await clerk.get<Today>('/api/today')).body;
    expect(missingFromParcel.map((order) => order.number)).toEqual([number]);
  });
});

describe('a parcel that nobody expected', () => {
  let house: House;
  let clerk: Person;
  let stranger: Person;
  beforeAll(async () => {
    house = await openHouse();
    clerk = await house.signIn('oona');
    stranger = await house.signIn('tomas');
  });
  afterAll(() => house?.close());

  it('is kept on the worklist until somebody says where it belongs', async () => {
    const scene = await sceneAt(house, 'sent');
    const keep = (more: object = {}) =>
      clerk.post<UnexpectedParcel>('/api/parcels', {
        clinicId: scene.clinic.id,
        label: { text: '', serial: 'STRAY 1', lot: 'L7' },
        location: 'desk, apart',
        note: 'No name on it, sent from the usual courier.',
        ...more,
      });
    const kept = await keep();
    expect(kept).toMatchObject({
      status: 201,
      body: {
        state: 'kept',
        found: { serial: 'STRAY 1', lot: 'L7' },
        steps: ['match', 'send-back', 'hand-over'],
      },
    });
    const unexpected = async () => (await clerk.get<Today>('/api/today')).body.unexpected;
    expect((await unexpected()).map(({ id }) => id)).toEqual([kept.body.id]);
    const foreign = await sceneAt(house, 'sent', { clinic: 'NOR' });
    const path = `/api/parcels/${kept.body.id}`;
    expect(await clerk.post(`${path}/match`, { version: 1, orderId: foreign.orderId, why })).toMatchObject({
      status: 404,
    });
    expect(await clerk.post(`${path}/match`, { version: 1, orderId: scene.orderId, why })).toMatchObject({
      status: 200,
      body: { state: 'matched', orderId: scene.orderId },
    });
    expect(await unexpected()).toEqual([]);
    expect(await clerk.post(`${path}/send-back`, { version: 2, why })).toMatchObject({ status: 409 });
    const other = (await keep()).body;
    expect(await clerk.post(`/api/parcels/${other.id}/send-back`, { version: 1, why })).toMatchObject({
      body: { state: 'sent_back', endedWhy: why },
    });
    expect((await stranger.get(`/api/parcels/${kept.body.id}`)).status).toBe(404);
    const elsewhere = house.network.clinics.find(({ code }) => code === 'NOR')!;
    expect((await keep({ clinicId: elsewhere.id })).status).toBe(404);
  });
});
