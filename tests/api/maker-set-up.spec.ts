import { Webhook } from 'standardwebhooks';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { AddMaker, MakerSummary, NewSecret } from '@lensferry/contracts';
import { day } from '../support/eye.js';
import { openHouse, type House, type Person } from '../support/house.js';

const wanted: AddMaker = {
  code: 'TIDEWAY',
  name: 'Tideway Optics',
  channel: 'https',
  endpoint: 'https://orders.tideway.example/lensferry',
  orderEmail: null,
  sendsPerMinute: 30,
  contact: 'desk@tideway.example',
  currency: 'EUR',
  returnWindowDays: 60,
  timeZone: 'Europe/Lisbon',
  cutOff: '15:00',
  holidays: [day(-30), day(-10), day(-30)],
  terms: null,
  address: 'Quay 4, Harbour Town',
  website: 'https://tideway.example',
};

describe('a maker from nothing', () => {
  let house: House;
  let ada: Person;
  let una: Person;
  let maker: MakerSummary;
  beforeAll(async () => {
    house = await openHouse();
    ada = await house.signIn('ada');
    una = await house.signIn('una');
  });
  afterAll(() => house?.close());
  const now = async () => (await ada.get<MakerSummary>(`/api/makers/${maker.id}`)).body;

  it('is added by an administrator with all that is agreed, once, and is on the record', async () => {
    expect((await una.post('/api/makers', wanted)).status).toBe(403);
    const added = await ada.post<MakerSummary>('/api/makers', wanted);
    expect(added.status).toBe(200);
    maker = added.body;
    expect(maker).toMatchObject({
      code: 'TIDEWAY',
      channel: 'https',
      endpoint: wanted.endpoint,
      sendsPerMinute: 30,
      holidays: [day(-10), day(-30)].sort(),
      address: wanted.address,
      hasSecret: false,
      designs: [],
    });
    const again = await ada.post('/api/makers', { ...wanted, name: 'Another' });
    expect(again).toMatchObject({
      status: 409,
      body: { code: 'maker.taken', errors: [{ pointer: '/code' }] },
    });
    const { body } = await ada.get<{ items: { action: string; facts: object }[] }>('/api/audit');
    expect(body.items.find(({ action }) => action === 'maker.add')?.facts).toMatchObject({ code: 'TIDEWAY' });
  });

  it('asks of a channel what it needs, and of an address over a network that it is encrypted', async () => {
    const without = await ada.post('/api/makers', { ...wanted, code: 'NONE', endpoint: null });
    expect(without).toMatchObject({ status: 400, body: { errors: [{ pointer: '/endpoint' }] } });
    const plain = await ada.post('/api/makers', {
      ...wanted,
      code: 'PLAIN',
      name: 'Plain',
      endpoint: 'http://orders.tideway.example',
    });
    expect(plain).toMatchObject({ status: 400, body: { code: 'maker.insecure' } });
    const mail = await ada.post(`/api/makers/${maker.id}/reach`, {
      version: maker.version,
      channel: 'email',
      endpoint: maker.endpoint,
      orderEmail: null,
      sendsPerMinute: 30,
    });
    expect(mail).toMatchObject({ status: 400, body: { errors: [{ pointer: '/orderEmail' }] } });
  });

  it('is reached another way, with what was before on the record; a stale screen changes nothing', async () => {
    const body = {
      channel: 'email',
      endpoint: null,
      orderEmail: 'orders@tideway.example',
      sendsPerMinute: 10,
    };
    const path = `/api/makers/${maker.id}/reach`;
    const done = await ada.post<MakerSummary>(path, { version: maker.version, ...body });
    expect(done).toMatchObject({ status: 200, body: { ...body, version: maker.version + 1 } });
    const stale = await ada.post(path, { version: maker.version, ...body, sendsPerMinute: 1 });
    expect(stale).toMatchObject({ status: 409, body: { code: 'maker.moved' } });
    expect((await now()).sendsPerMinute).toBe(10);
  });

  it('gets a secret that is told once, proves messages from then on, and ends the one before', async () => {
    const renew = async () => {
      const { version } = await now();
      return (await ada.post<NewSecret>(`/api/makers/${maker.id}/secret`, { version })).body.secret;
    };
    const first = await renew();
    expect(first).toMatch(/^whsec_[A-Za-z0-9+/]{32}$/);
    const second = await renew();
    expect(second).not.toBe(first);
    expect(JSON.stringify(await now())).not.toContain(second.slice(6));
    const { body } = await ada.get<{ items: { action: string }[] }>('/api/audit');
    expect(body.items.filter(({ action }) => action === 'maker.secret').length).toBeGreaterThan(1);
    expect(JSON.stringify(body)).not.toContain(second.slice(6));
    const say = (secret: string) => {
      const at = new Date();
      const text = JSON.stringify({
        type: 'order.declined',
        sentAt: at.toISOString(),
        orderNumber: 'LE-0000-0000',
        reason: 'No such order with us.',
      });
      return house.app.inject({
        method: 'POST',
        url: '/api/maker-messages/TIDEWAY',
        payload: text,
        headers: {
          'content-type': 'application/json',
          'webhook-id': `msg_${at.getTime()}`,
          'webhook-timestamp': String(Math.floor(at.getTime() / 1000)),
          'webhook-signature': new Webhook(secret).sign(`msg_${at.getTime()}`, at, text),
        },
      });
    };
    expect((await say(first)).statusCode).toBe(401);
    // The signature holds; there only is no such order.
    expect((await say(second)).statusCode).not.toBe(401);
  });

  it('gets its first design from a file that names every fault at once', async () => {
    const url = `/api/makers/${maker.id}/new-design.csv?code=TW-SLUICE`;
    const { payload: file } = await house.app.inject({ url, headers: { cookie: ada.cookie } });
    expect(file).toContain('design,,TW-SLUICE');
    const path = `/api/makers/${maker.id}/designs`;
    const good = { code: 'TW-SLUICE', name: 'Sluice', validFrom: day(0), file };
    const bad = file
      .replace('sphere_step,D,0.5', 'sphere_step,D,zero')
      .replace('axis_policy,,any', 'axis_policy,,some');
    const refused = await ada.post<{ code: string; errors: object[] }>(path, { ...good, file: bad });
    expect(refused).toMatchObject({ status: 400, body: { code: 'sheet.faults' } });
    expect(refused.body.errors.length).toBeGreaterThan(1);
    expect((await now()).designs).toEqual([]);
    expect((await una.post(path, good)).status).toBe(403);
    const added = await ada.post<MakerSummary>(path, good);
    expect(added.body.designs).toMatchObject([{ code: 'TW-SLUICE', name: 'Sluice', version: 1 }]);
    expect(await ada.post(path, good)).toMatchObject({ status: 409, body: { code: 'design.taken' } });
  });
});
