import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ArrivalReading, LensSummary } from '@lensferry/contracts';
import { as } from '../../apps/api/dist/demo/cast.js';
import { readArrival } from '../../apps/api/dist/receiving/read-arrival.js';
import { receiveLens } from '../../apps/api/dist/receiving/receive-lens.js';
import { day } from '../support/eye.js';
import { openHouse, type House, type Person } from '../support/house.js';
import { scenery, sceneAt, type Scene } from '../support/scenes.js';

const why = 'The test asks for it.';

describe('what comes to the receiving desk', () => {
  let house: House;
  let clerk: Person;
  let surgeon: Person;
  beforeAll(async () => {
    house = await openHouse();
    clerk = await house.signIn('oona');
    surgeon = await house.signIn('ilse');
  });
  afterAll(() => house?.close());

  const receive = (scene: Scene, label: object, more: object = {}) =>
    clerk.post<{ code?: string; detail?: string; state?: string; errors?: { pointer: string }[] }>(
      `/api/orders/${scene.orderId}/receive`,
      { label, outcome: 'quarantine', location: 'apart', why, ...more },
    );
  const read = (label: object, orderId?: string) =>
    clerk.post<ArrivalReading>('/api/arrivals/read', orderId === undefined ? { label } : { label, orderId });

  it('is taken in once, however often the pack is scanned', async () => {
    const scene = await sceneAt(house, 'shipped', { clinic: 'EST' });
    const label = await scenery.packOf(scene);
    expect((await receive(scene, label, { outcome: 'accept' })).body).toMatchObject({ state: 'accepted' });
    expect((await receive(scene, label)).body).toMatchObject({ code: 'arrival.seen-before' });
    expect((await read(label)).body).toMatchObject({ verdict: 'seen before', order: null });
  });

  it('is known by its serial in the whole network, and nothing is told of the other clinic', async () => {
    const elsewhere = await sceneAt(house, 'accepted', { clinic: 'NOR' });
    const here = await sceneAt(house, 'shipped', { clinic: 'EST' });
    const { serial } = elsewhere.unit!;
    const label = { ...(await scenery.packOf(here)), text: '', serial };
    const told = (await read(label, here.orderId)).body;
    expect(told).toMatchObject({ verdict: 'seen before', order: null });
    expect(told.sentence).toContain('another clinic of the network');
    const refused = await receive(here, label);
    expect(refused).toMatchObject({ status: 409, body: { code: 'arrival.seen-before' } });
    const secrets = [elsewhere.caseId, elsewhere.orderId, elsewhere.clinic.id, 'Northlight', 'NOR-'];
    for (const secret of secrets) expect(JSON.stringify([told, refused.body]), secret).not.toContain(secret);
  });

  it('may bear a serial that another maker uses too', async () => {
    const elsewhere = await sceneAt(house, 'accepted', { clinic: 'NOR', maker: 'OSTREL' });
    const here = await sceneAt(house, 'shipped', { clinic: 'EST', maker: 'QUILLON' });
    const label = { ...(await scenery.packOf(here)), text: '', serial: elsewhere.unit!.serial };
    expect((await receive(here, label)).body).toMatchObject({ state: 'quarantined' });
  });

  it('is kept as it was read, with nothing filled in from the order, and released only when read whole', async () => {
    const scene = await sceneAt(house, 'shipped', { clinic: 'EST' });
    const { serial, expiresOn, lot, eye, sphereD, cylinderD, axisDeg, lengthMm } =
      await scenery.packOf(scene);
    expect((await receive(scene, { text: '', serial, expiresOn, lot, eye })).body).toMatchObject({
      state: 'quarantined',
    });
    const page = await clerk.get<{ items: LensSummary[] }>(`/api/lenses?q=${serial}`);
    const lens = page.body.items[0]!;
    expect(lens).toMatchObject({
      lens: { eye, sphereD: null, cylinderD: null, axisDeg: null, lengthMm: null },
      unread: ['sphereD', 'cylinderD', 'axisDeg', 'lengthMm'],
    });
    expect(lens.steps).toContain('read');
    const release = (version: number) => surgeon.post(`/api/lenses/${lens.id}/release`, { version, why });
    expect(await release(1)).toMatchObject({ status: 422, body: { code: 'lens.unread' } });

    const path = `/api/lenses/${lens.id}/read`;
    const rest = { version: 1, sphereD, cylinderD, axisDeg };
    expect(await clerk.post(path, { ...rest, serial: 'OTHER' })).toMatchObject({
      status: 422,
      body: { code: 'lens.other-pack' },
    });
    const some = await clerk.post<LensSummary>(path, { ...rest, serial });
    expect(some.body).toMatchObject({ unread: ['lengthMm'], lens: { eye, sphereD }, version: 2 });
    expect(await clerk.post(path, { version: 2, serial, sphereD: -1 })).toMatchObject({
      status: 422,
      body: { code: 'lens.read-already' },
    });
    expect(await release(2)).toMatchObject({ status: 422 });
    const whole = await clerk.post<LensSummary>(path, { version: 2, serial, lengthMm });
    expect(whole.body).toMatchObject({ unread: [], lens: { sphereD, cylinderD, axisDeg, lengthMm } });
    expect((await release(3)).body).toMatchObject({ state: 'reserved' });
  });

  it('needs a reason to be accepted when it expires too soon after theatre', async () => {
    const scene = await sceneAt(house, 'shipped', { clinic: 'EST' });
    const label = { ...(await scenery.packOf(scene)) };
    const clinicDay = { ...label, text: '', expiresOn: day(-10) };
    // The maker announced this date, so that the pack is what the order says.
    await as(scene.cast, scene.clinic, 'inventory', async ({ tx }) => {
      const order = await tx.lensOrder.findFirstOrThrow({ where: { id: scene.orderId } });
      await tx.lensOrder.updateMany({
        where: { id: scene.orderId },
        data: { announcedUnit: { ...(order.announcedUnit as object), expiresOn: day(-10) } },
      });
    });
    const told = (await read(clinicDay, scene.orderId)).body;
    expect(told).toMatchObject({ verdict: 'match' });
    expect(told.shortExpiry).toContain('less than 30 days after');
    const accept = (more: object) => receive(scene, clinicDay, { outcome: 'accept', ...more });
    const refused = await accept({ why: undefined });
    expect(refused).toMatchObject({ status: 422, body: { code: 'arrival.short-expiry' } });
    expect(refused.body.errors).toMatchObject([{ pointer: '/why' }]);
    expect((await accept({ why })).body).toMatchObject({ state: 'accepted' });
  });

  it('is told apart at the desk of the clinic that asks: its own record first', async () => {
    const scene = await sceneAt(house, 'accepted', { clinic: 'EST' });
    const { serial } = scene.unit!;
    const label = { text: '', serial };
    const own = await as(scene.cast, scene.clinic, 'inventory', (work) => readArrival(work, { label }));
    expect(own.sentence).toContain('already on record here: reserved');
    const north = scene.cast.clinics.find(({ code }) => code === 'NOR')!;
    const other = await as(scene.cast, north, 'inventory', (work) => readArrival(work, { label }));
    expect(other.sentence).toContain('at another clinic');
    await expect(
      as(scene.cast, north, 'inventory', (work) =>
        receiveLens(work, scene.orderId, { label, outcome: 'quarantine', location: 'x', why }),
      ),
    ).rejects.toMatchObject({ code: 'order.missing' });
  });
});
