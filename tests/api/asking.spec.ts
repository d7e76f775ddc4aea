import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { InquiryDocument, makerSchema } from '../../packages/contracts/src/index.js';
import type { AskedMakers, OrderDetail } from '../../packages/contracts/src/index.js';
import { openHouse, type House, type Person } from '../support/house.js';
import { asWorker } from '../../apps/api/dist/demo/cast.js';
import { settle } from '../../apps/api/dist/dispatch/settle.js';
import { makerPaper } from '../../apps/api/dist/dispatch/maker-paper.js';
import { readPdf } from '../support/read-pdf.js';
import { orderOf, sceneAt, scenery, type Scene } from '../support/scenes.js';
import { day } from '../support/eye.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';

describe('asking makers when lenses will come', () => {
  let house: House;
  let root: Superuser;
  let una: Person;
  let oona: Person;
  beforeAll(async () => {
    house = await openHouse();
    root = await asSuperuser(house.db);
    [una, oona] = await Promise.all([house.signIn('una'), house.signIn('oona')]);
  });
  afterAll(async () => {
    await root?.close();
    await house?.close();
  });

  const show = async ({ orderId }: Scene) => (await una.get<OrderDetail>(`/api/orders/${orderId}`)).body;
  const ask = async (scenes: readonly Scene[], more: object = {}, who = una) =>
    who.post<AskedMakers & { code: string; detail: string }>('/api/orders/inquiries', {
      orders: await Promise.all(
        scenes.map(async (scene) => ({ id: scene.orderId, version: (await orderOf(scene)).version })),
      ),
      ...more,
    });
  const inquiries = () => root.rows('select * from inquiry order by number');

  it('sends one question to each maker, in one go, and none where one order can’t be asked after', async () => {
    const [first, second, other, draft, silent] = [
      await sceneAt(house, 'acknowledged'),
      await sceneAt(house, 'sent'),
      await sceneAt(house, 'acknowledged', { maker: 'OSTREL' }),
      await sceneAt(house, 'draft'),
      await sceneAt(house, 'acknowledged', { maker: 'FENNICK' }),
    ];
    expect(await ask([first, draft])).toMatchObject({ status: 409, body: { code: 'order.not-awaited' } });
    expect(await ask([first, silent])).toMatchObject({ body: { code: 'order.asked-by-hand' } });
    expect((await ask([first], {}, oona)).status).toBe(403);
    expect(await inquiries()).toEqual([]);
    const asked = await ask([first, second, other]);
    expect(asked.body.inquiries.map(({ orders }) => orders).sort()).toEqual([1, 2]);
    const kept = await inquiries();
    expect(kept).toHaveLength(2);
    for (const { document } of kept) {
      expect(InquiryDocument.safeParse(document).success).toBe(true);
      expect(JSON.stringify(document)).not.toContain('Test Person');
    }
    const both = kept.find(({ document }) => (document as InquiryDocument).orders.length === 2)!;
    const { number } = await show(first);
    expect((both['document'] as InquiryDocument).orders.map(({ orderNumber }) => orderNumber)).toContain(
      number,
    );
    const seen = await show(first);
    expect(seen.inquiry).toMatchObject({ number: both['number'], told: null, how: null });
    expect(seen.inquiry!.by).toMatch(/Una/);
    expect(seen.state).toBe('acknowledged');
    expect(seen.history.map(({ action }) => action)).toContain('order.ask-after');
    const waiting = await root.rows(
      `select payload from outbox_event where topic = 'order.inquiry' and payload->>'inquiryId' = '${String(both['id'])}'`,
    );
    expect(waiting).toHaveLength(1);
    const { text } = await readPdf(await makerPaper(both['document'] as InquiryDocument, new Date()));
    expect(text).toContain(number);
    expect(text).toContain('Nothing changes by this question');
    expect(makerSchema('order-inquiry')['title']).toBe('order-inquiry');
  });

  it('is answered by what is heard from the maker next, and says when it did not arrive', async () => {
    const [first, second] = [await sceneAt(house, 'acknowledged'), await sceneAt(house, 'acknowledged')];
    await ask([first, second]);
    const inquiryId = (await orderOf(first)).inquiryId!;
    await asWorker(first.cast, first.clinic, (work) =>
      settle(work, {
        parcel: { kind: 'inquiry', id: inquiryId, number: 'QE' },
        attempt: { sent: false, final: true, status: 410, outcome: 'The maker answered 410.' },
        ended: true,
        eventId: '019aa000-0000-7000-8000-000000000000',
        clinicId: first.clinic.id,
        count: 1,
      }),
    );
    expect((await show(first)).inquiry).toMatchObject({ told: false, outcome: 'The maker answered 410.' });
    await scenery.ship(first, day(0));
    expect((await show(first)).inquiry).toBeNull();
    expect((await show(second)).inquiry).toMatchObject({ told: false });
    const { version } = await show(second);
    await una.post(`/api/orders/${second.orderId}/promise`, {
      version,
      promisedOn: day(-30),
      why: 'By phone',
    });
    expect((await show(second)).inquiry).toBeNull();
  });

  it('keeps how a person asked, of several makers at once, and refuses what somebody has moved', async () => {
    const scenes = [
      await sceneAt(house, 'acknowledged', { maker: 'FENNICK' }),
      await sceneAt(house, 'acknowledged'),
    ];
    const how = 'By telephone, with the bench.';
    expect((await ask(scenes, { how })).body.inquiries).toHaveLength(2);
    const { inquiry, version } = await show(scenes[0]!);
    expect(inquiry).toMatchObject({ how, told: true });
    const orders = [{ id: scenes[0]!.orderId, version: version - 1 }];
    const late = await una.post<{ code: string }>('/api/orders/inquiries', { orders, how });
    expect(late).toMatchObject({ status: 409, body: { code: 'order.moved' } });
    // A person has asked: nothing is sent, and what was asked before is taken over by the newer question.
    expect(await root.rows(`select 1 from inquiry where how is not null and document is not null`)).toEqual(
      [],
    );
  });
});
