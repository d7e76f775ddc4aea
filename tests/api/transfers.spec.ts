import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type {
  FittingLenses,
  LensDetail,
  LensTransfer,
  LensTransfers,
  OrderDetail,
  Today,
} from '../../packages/contracts/src/index.js';
import { returnDocument } from '../../apps/api/dist/dispatch/order-document.js';
import { openHouse, type House, type Person } from '../support/house.js';
import { as, orderOf, sceneAt, scenery, type Scene } from '../support/scenes.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';

type Told = LensTransfer & { code: string; detail: string };
const why = 'The test asks for it.';

describe('a lens that goes to another clinic', () => {
  let house: House;
  let root: Superuser;
  /** Giver's shelf, taker's shelf, and a third clinic's. */
  let oona: Person;
  let piet: Person;
  let nikos: Person;
  let nor: string;
  let eyes = 0;
  beforeAll(async () => {
    house = await openHouse();
    root = await asSuperuser(house.db);
    [oona, piet, nikos] = await Promise.all([
      house.signIn('oona'),
      house.signIn('piet'),
      house.signIn('nikos'),
    ]);
    nor = house.network.clinics.find(({ code }) => code === 'NOR')!.id;
  });
  afterAll(async () => {
    await root?.close();
    await house?.close();
  });

  const lensOf = async (lensId: string, who = oona) =>
    (await who.get<LensDetail>(`/api/lenses/${lensId}`)).body;
  const orderSeen = async ({ orderId }: Scene, who = piet) =>
    (await who.get<OrderDetail>(`/api/orders/${orderId}`)).body;
  /** A free unit at the giver, and what stands on its pack. */
  const freeUnit = async () => {
    const scene = await sceneAt(house, 'accepted', {
      patient: 'Hidden Giver',
      codeName: `Hidden eye ${(eyes += 1)}`,
    });
    const pack = await scenery.packOf(scene);
    const { version } = await lensOf(scene.lensId);
    await oona.post(`/api/lenses/${scene.lensId}/unreserve`, { version, why });
    return { scene, lensId: scene.lensId, pack };
  };
  const offer = async (lensId: string, more: object = {}) =>
    oona.post<Told>(`/api/lenses/${lensId}/offer`, { version: (await lensOf(lensId)).version, why, ...more });
  const step = async (id: string, name: string, who: Person, more: object = {}, version?: number) => {
    const seen = version ?? (await who.get<LensTransfer>(`/api/transfers/${id}`)).body.version;
    return who.post<Told>(`/api/transfers/${id}/${name}`, { version: seen, ...more });
  };
  const needing = () => sceneAt(house, 'approved', { clinic: 'NOR' });
  const toMove = async (who: Person) =>
    (await who.get<Today>('/api/today')).body.transfers.map(({ serial }) => serial);

  it('is offered, taken up for a signed order that asks for exactly it, sent, read and on record at both ends', async () => {
    const { scene: from, lensId, pack } = await freeUnit();
    const to = await needing();
    const { body: offered, status } = await offer(lensId);
    expect(status).toBe(201);
    expect(offered).toMatchObject({ state: 'offered', to: null, steps: ['withdraw'], lensId });
    // Everybody of the network sees the unit, nobody the eye it was made for.
    const seen = await piet.get<LensTransfers>('/api/transfers');
    expect(seen.body.items.map(({ serial }) => serial)).toContain(offered.serial);
    const text = JSON.stringify(seen.body);
    for (const hidden of ['Hidden', lensId, from.caseId, from.orderId]) expect(text).not.toContain(hidden);
    expect(seen.body.items[0]).toMatchObject({
      steps: ['accept'],
      lensId: null,
      fits: [{ id: to.orderId }],
    });
    expect(await toMove(piet)).toContain(offered.serial);
    expect(await toMove(nikos)).not.toContain(offered.serial);
    const fitting = await piet.get<FittingLenses>(`/api/orders/${to.orderId}/fitting-lenses`);
    expect(fitting.body.offers.map(({ id }) => id)).toEqual([offered.id]);
    // Nobody uses it otherwise meanwhile.
    const { version, steps } = await lensOf(lensId);
    expect(steps).toEqual([]);
    expect(
      await oona.post(`/api/lenses/${lensId}/reserve`, { version, orderId: from.orderId }),
    ).toMatchObject({
      body: { code: 'lens.offered' },
    });
    expect(await oona.post(`/api/lenses/${lensId}/return`, { version, reason: why })).toMatchObject({
      body: { code: 'lens.offered' },
    });

    expect((await step(offered.id, 'accept', piet, { orderId: to.orderId })).body).toMatchObject({
      state: 'accepted',
      to: { id: nor },
      order: { id: to.orderId },
    });
    const jonas = await house.signIn('jonas');
    const placing = await jonas.post<Told>(`/api/orders/${to.orderId}/place`, {
      version: (await orderOf(to)).version,
    });
    expect(placing).toMatchObject({ status: 422, body: { code: 'order.lens-on-its-way' } });
    expect((await step(offered.id, 'send', piet, { tracking: 'BOX 1' })).body.code).toBe(
      'transfer.other-end',
    );
    expect((await step(offered.id, 'send', oona, { tracking: 'BOX 1' })).body.state).toBe('sent');
    expect(await lensOf(lensId)).toMatchObject({ state: 'handed_over', location: 'Northlight Eye House' });

    // The desk that scans it is shown the way; a wrong pack and a pack half read are not taken in.
    const read = await piet.post(`/api/arrivals/read`, { label: pack });
    expect(read.body).toMatchObject({ transferId: offered.id });
    const take = (label: object) => step(offered.id, 'receive', piet, { label, location: 'shelf 3' });
    expect((await take({ text: '', serial: pack.serial })).body.code).toBe('arrival.incomplete');
    const { text: _code, lot: _lot, ...typed } = pack;
    const other = await take({ ...typed, lengthMm: 13 });
    expect(other.body).toMatchObject({ code: 'transfer.other-pack' });
    expect(
      await root.rows('select 1 from lens_unit where clinic_id = $1 and serial = $2', [nor, pack.serial]),
    ).toEqual([]);
    const received = await take(pack);
    expect(received.body).toMatchObject({ state: 'received', steps: [] });
    const order = await orderSeen(to);
    expect(order).toMatchObject({ state: 'accepted', price: '0.00' });
    const arrived = await lensOf(received.body.arrivedLensId!, piet);
    expect(arrived).toMatchObject({ state: 'reserved', serial: pack.serial, case: { id: to.caseId } });
    expect(arrived.custody.map(({ event }) => event)).toEqual(['receive', 'reserve']);
    expect(arrived.custody[0]!.why).toContain('From Estuary Clinic; made under');
    expect((await lensOf(lensId)).custody.map(({ event }) => event)).toContain('hand-over');
    // When it goes back, its maker is told the number that it knows.
    const { number } = await orderOf(from);
    const { body: freed } = await piet.post<LensDetail>(`/api/lenses/${arrived.id}/unreserve`, {
      version: arrived.version,
      why,
    });
    const back = await piet.post<{ id: string }>(`/api/lenses/${arrived.id}/return`, {
      version: freed.version,
      reason: why,
    });
    const paper = await as(to.cast, to.clinic, 'coordinator', (work) => returnDocument(work, back.body.id));
    expect(paper.orderNumber).toBe(number);
  });

  it('is refused, comes back to the giver’s shelf, or is written off', async () => {
    const { lensId } = await freeUnit();
    const to = await needing();
    const { body: offered } = await offer(lensId, { toClinicId: nor });
    await step(offered.id, 'accept', piet, { orderId: to.orderId });
    await step(offered.id, 'send', oona, { tracking: 'BOX 2' });
    expect((await step(offered.id, 'refuse', oona, { why })).body.code).toBe('transfer.other-end');
    expect((await step(offered.id, 'refuse', piet, { why: 'The seal is broken.' })).body).toMatchObject({
      state: 'refused',
      note: 'The seal is broken.',
    });
    expect((await orderSeen(to)).state).toBe('approved');
    expect(await toMove(oona)).toContain(offered.serial);
    expect((await step(offered.id, 'take-back', oona, { location: 'shelf 1', why })).body.state).toBe(
      'taken_back',
    );
    expect(await lensOf(lensId)).toMatchObject({ state: 'in_stock', location: 'shelf 1' });

    const { body: again } = await offer(lensId);
    await step(again.id, 'accept', piet, { orderId: to.orderId });
    await step(again.id, 'send', oona, { tracking: 'BOX 3' });
    expect((await step(again.id, 'lose', oona, { why })).body.state).toBe('lost');
    expect((await lensOf(lensId)).state).toBe('discarded');
  });

  it('is declined or withdrawn before it has left, and is then free again', async () => {
    const { lensId } = await freeUnit();
    const { body: offered } = await offer(lensId, { toClinicId: nor });
    // Addressed to one clinic, it is nobody else's to see.
    expect((await nikos.get(`/api/transfers/${offered.id}`)).status).toBe(404);
    expect((await step(offered.id, 'decline', piet, { why })).body.state).toBe('declined');
    const { body: second } = await offer(lensId);
    expect((await step(second.id, 'withdraw', oona, { why })).body.state).toBe('withdrawn');
    expect((await lensOf(lensId)).steps).toContain('offer');
  });

  it('is refused by sentences that say why', async () => {
    const { lensId, scene } = await freeUnit();
    const own = house.network.clinics.find(({ code }) => code === 'EST')!.id;
    expect((await offer(lensId, { toClinicId: own })).body.code).toBe('transfer.same-clinic');
    const reserved = await sceneAt(house, 'accepted');
    expect((await offer(reserved.lensId)).body).toMatchObject({ code: 'transfer.not-free' });
    const { body: offered } = await offer(lensId);
    const unsigned = await sceneAt(house, 'submitted', { clinic: 'NOR' });
    expect((await step(offered.id, 'accept', piet, { orderId: unsigned.orderId })).body.code).toBe(
      'transfer.order-not-open',
    );
    const left = await sceneAt(house, 'approved', { clinic: 'NOR', eye: 'OS' });
    expect((await step(offered.id, 'accept', piet, { orderId: left.orderId })).body.code).toBe(
      'transfer.not-for-order',
    );
    expect((await step(offered.id, 'accept', piet, { orderId: scene.orderId })).status).toBe(404);
  });

  it('goes to one of those who reach for it at the same moment, and is received once', async () => {
    const { lensId, pack } = await freeUnit();
    const { body: offered } = await offer(lensId);
    const [here, there] = [await needing(), await sceneAt(house, 'approved', { clinic: 'HAR' })];
    const reached = await Promise.all(
      Array.from({ length: 20 }, (_, i) =>
        i % 2 === 0
          ? step(offered.id, 'accept', piet, { orderId: here.orderId }, 1)
          : step(offered.id, 'accept', nikos, { orderId: there.orderId }, 1),
      ),
    );
    const won = reached.filter(({ status }) => status === 200);
    expect(won).toHaveLength(1);
    for (const { status } of reached) expect([200, 404, 409]).toContain(status);
    const taker = won[0]!.body.to!.id === nor ? piet : nikos;
    await step(offered.id, 'send', oona, { tracking: 'BOX 4' });
    const { version } = (await taker.get<LensTransfer>(`/api/transfers/${offered.id}`)).body;
    const taken = await Promise.all(
      Array.from({ length: 10 }, () =>
        step(offered.id, 'receive', taker, { label: pack, location: 'shelf 1' }, version),
      ),
    );
    expect(taken.filter(({ status }) => status === 200)).toHaveLength(1);
    const units = await root.rows(`select state from lens_unit where serial = $1`, [pack.serial]);
    expect(units.map(({ state }) => state).sort()).toEqual(['handed_over', 'reserved']);
  });

  it('keeps its unit and its ends whatever the application tries', async () => {
    const { lensId } = await freeUnit();
    const { body: offered } = await offer(lensId, { toClinicId: nor });
    const piets = house.network.clinics.find(({ code }) => code === 'NOR')!.staff.inventory;
    await expect(
      house.database.work(piets, ({ tx }) =>
        tx.lensTransfer.update({ where: { id: offered.id }, data: { serial: 'OTHER' } }),
      ),
    ).rejects.toThrow(/keeps its unit/);
    const nikosActor = house.network.clinics.find(({ code }) => code === 'HAR')!.staff.inventory;
    const reached = await house.database.work(nikosActor, ({ tx }) =>
      tx.lensTransfer.updateMany({ where: { id: offered.id }, data: { note: 'mine' } }),
    );
    expect(reached.count).toBe(0);
  });
});
