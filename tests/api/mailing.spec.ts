import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { OrderDocument, type OrderDetail, type Today } from '@lensferry/contracts';
import { openHouse, until, type House } from '../support/house.js';
import { attachmentsOf, openMailHouse, type MailHouse } from '../support/mail-house.js';
import { readPdf } from '../support/read-pdf.js';
import { orderOf, sceneAt, scenery, type Scene } from '../support/scenes.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';

describe('a maker that is reached by e-mail', () => {
  let house: House;
  let post: MailHouse;
  let root: Superuser;
  beforeAll(async () => {
    post = await openMailHouse();
    house = await openHouse({
      dispatching: true,
      environment: { SMTP_URL: post.url, MAIL_FROM: 'orders@clinics.example', SEND_ATTEMPTS: '4' },
    });
    root = await asSuperuser(house.db);
    await root.rows(
      `update maker set channel = 'email', order_email = 'desk@quillon.example' where code = 'QUILLON'`,
    );
  });
  afterAll(async () => {
    await root?.close();
    await house?.close();
    await post?.close();
  });

  const place = async (patient?: string): Promise<Scene> => {
    const scene = await sceneAt(house, 'approved', patient === undefined ? {} : { patient });
    await scenery.place(scene);
    return scene;
  };
  const settled = (scene: Scene, state: string) =>
    until(async () => (await orderOf(scene)).state === state, `the order to be ${state}`);
  const mailOf = async (scene: Scene) => {
    const { number } = await orderOf(scene);
    return post.mails.filter(({ raw }) => raw.includes(`Subject: Lens order ${number}`));
  };

  it('gets the order as PDF and as JSON, and no patient’s name', async () => {
    const scene = await place('Quentin Unmistakable');
    await settled(scene, 'sent');
    const [mail, ...more] = await mailOf(scene);
    expect(more).toEqual([]);
    expect(mail!.to).toBe('desk@quillon.example');
    const { number, specification } = await orderOf(scene);
    const files = attachmentsOf(mail!.raw);
    const document = OrderDocument.parse(
      JSON.parse(files.get(`${number.toLowerCase()}.json`)!.toString('utf8')),
    );
    expect(document.orderNumber).toBe(number);
    const paper = await readPdf(files.get(`${number.toLowerCase()}.pdf`)!);
    expect(paper.text).toContain(number);
    expect(paper.text).toContain(`${document.eye} EYE`);
    expect(paper.text).toContain((specification as { caseCode: string }).caseCode);
    for (const part of [mail!.raw.toString('latin1'), paper.text, JSON.stringify(document)])
      expect(part).not.toMatch(/Quentin|Unmistakable|T-\d+\b/);
  });

  it('is tried again after a 4xx with the very same bytes and the same Message-ID', async () => {
    const before = post.brought.length;
    post.answers.push(451, 452);
    const scene = await place();
    await settled(scene, 'sent');
    const tries = post.brought.slice(before);
    expect(tries).toHaveLength(3);
    expect(tries[1]!.equals(tries[0]!)).toBe(true);
    expect(tries[2]!.equals(tries[0]!)).toBe(true);
    expect(tries[0]!.toString('latin1')).toMatch(/^Message-ID: <[^>]+@clinics\.example>/m);
    const una = await house.signIn('una');
    const { body } = await una.get<OrderDetail>(`/api/orders/${scene.orderId}`);
    expect(body.deliveries.map(({ status }) => status)).toEqual([451, 452, 250]);
  });

  it('comes onto the worklist after a 5xx, at once, and can be tried again', async () => {
    const before = post.brought.length;
    post.answers.push(550);
    const scene = await place();
    await settled(scene, 'send_failed');
    expect(post.brought).toHaveLength(before + 1);
    expect((await orderOf(scene)).note).toContain('550');
    const una = await house.signIn('una');
    const { body: today } = await una.get<Today>('/api/today');
    expect(today.sendFailed.map(({ id }) => id)).toContain(scene.orderId);
    const { version } = await orderOf(scene);
    await una.post(`/api/orders/${scene.orderId}/retry`, { version });
    await settled(scene, 'sent');
    expect(post.brought.at(-1)!.equals(post.brought[before]!)).toBe(true);
  });

  it('is asked to cancel by mail too, and the answer is entered by hand', async () => {
    const scene = await place();
    await settled(scene, 'sent');
    const una = await house.signIn('una');
    const { version, number } = await orderOf(scene);
    const why = 'The patient has put the operation off.';
    await una.post(`/api/orders/${scene.orderId}/ask-cancel`, { version, why });
    const asked = () => post.mails.find(({ raw }) => raw.includes(`Please cancel lens order ${number}`));
    const { raw } = await until(async () => asked(), 'the mail that asks to cancel');
    const [pdf] = [...attachmentsOf(raw)].filter(([name]) => name.endsWith('.pdf')).map(([, bytes]) => bytes);
    expect((await readPdf(pdf!)).text).toContain(why);
    const later = await orderOf(scene);
    const agreed = await una.post<OrderDetail>(`/api/orders/${scene.orderId}/accept-cancel`, {
      version: later.version,
    });
    expect(agreed.body.state).toBe('cancelled');
  });
});

describe('a mail server that nobody answers at', () => {
  it('is tried again until it is there', async () => {
    const gone = await openMailHouse();
    await gone.close();
    const house = await openHouse({
      dispatching: true,
      environment: { SMTP_URL: gone.url, MAIL_FROM: 'orders@clinics.example', SEND_ATTEMPTS: '8' },
    });
    const root = await asSuperuser(house.db);
    await root.rows(
      `update maker set channel = 'email', order_email = 'desk@quillon.example' where code = 'QUILLON'`,
    );
    const scene = await sceneAt(house, 'approved');
    await scenery.place(scene);
    const tried = () => root.rows(`select outcome from delivery where order_id = '${scene.orderId}'`);
    await until(async () => (await tried()).length > 0, 'a first try');
    const back = await openMailHouse(Number(new URL(gone.url).port));
    await until(async () => (await orderOf(scene)).state === 'sent', 'the order to go out');
    expect(back.mails).toHaveLength(1);
    expect((await tried())[0]!['outcome']).toContain('could not be reached');
    await root.close();
    await house.close();
    await back.close();
  });

  it('fails with a reason where no mail server is set up', async () => {
    const house = await openHouse({ dispatching: true });
    const root = await asSuperuser(house.db);
    await root.rows(
      `update maker set channel = 'email', order_email = 'desk@quillon.example' where code = 'QUILLON'`,
    );
    const scene = await sceneAt(house, 'approved');
    await scenery.place(scene);
    await until(async () => (await orderOf(scene)).state === 'send_failed', 'the failure');
    expect((await orderOf(scene)).note).toContain('SMTP_URL');
    await root.close();
    await house.close();
  });
});
