import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openBrowser, sitDown, type Seat } from '../../support/browser.js';
import { looks } from '../../support/days.js';
import { openHouse, type House } from '../../support/house.js';
import { manyOrders } from '../../support/many-orders.js';
import { middle } from '../load/many-asks.js';
import { markRows, rowsAt, sign, throttle, type Waited } from './waiting.js';

const many = Number(process.env['ORDERS'] ?? 100_000);
const few = 300;
const turns = 5;
const wantedMs = 1500;
const wantedTimes = 1.2;

const list = (perPage: number) =>
  `/orders?perPage=${perPage}&sort=recent&order=ASC&page=1&filter=${encodeURIComponent('{"state":"sent"}')}`;

const inTheMiddle = (times: readonly Waited[]): Waited => ({
  shown: middle(times.map(({ shown }) => shown)),
  answered: middle(times.map(({ answered }) => answered)),
});

/** The list of orders in a house with few of them, a third of which is sent, and in one with many. */
describe('the list of orders', { timeout: 1_800_000 }, () => {
  let browser: Browser;
  const first: Record<number, { api: number; shown: number }> = {};
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser?.close());

  /** From leaving for the page to rows that answer; every turn a page anew, in a browser that was here before. */
  async function waitedFor({ page }: Seat, url: string, rows: number): Promise<Waited> {
    const times: Waited[] = [];
    for (let turn = 0; turn <= turns; turn++) {
      await page.goto('about:blank');
      await page.goto(url, { waitUntil: 'commit' });
      const waited = await rowsAt(page, rows);
      if (turn > 0) times.push(waited);
    }
    return inTheMiddle(times);
  }

  /** The same for somebody who is in the admin already, at the list of cases. */
  async function waitedForWithin({ page }: Seat, base: string, path: string, rows: number): Promise<Waited> {
    const times: Waited[] = [];
    for (let turn = 0; turn <= turns; turn++) {
      await page.goto(`${base}/cases`);
      await page.locator('main tbody tr').first().waitFor();
      await page.waitForTimeout(1500);
      const left = await page.evaluate((to) => {
        (window as unknown as { rows: unknown[] }).rows.length = 0;
        const now = performance.now();
        history.pushState(null, '', to);
        dispatchEvent(new PopStateEvent('popstate', { state: null }));
        return now;
      }, path);
      const { shown, answered } = await rowsAt(page, rows);
      if (turn > 0) times.push({ shown: shown - left, answered: answered - left });
    }
    return inTheMiddle(times);
  }

  async function askedFor(house: House): Promise<number> {
    const ilse = await house.signIn('ilse');
    const times: number[] = [];
    for (let turn = 0; turn < 21; turn++) {
      const from = performance.now();
      expect((await ilse.get('/api/orders?state=sent&sort=recent&perPage=25')).status).toBe(200);
      times.push(performance.now() - from);
    }
    return middle(times);
  }

  for (const orders of [few, many])
    it(`of ${orders}`, async () => {
      const house = await openHouse({ environment: { ADMIN_DIR: 'apps/admin/dist' } });
      try {
        await (await manyOrders(house, orders / 2)).close();
        await house.app.listen(0, '127.0.0.1');
        const base = await house.app.getUrl();
        const seat = await sitDown(browser, base, 'ilse', looks.desk);
        await markRows(seat.page, '.horizon__row, main tbody tr');
        if (orders === few) await onSlowMachine(seat, base);
        const { shown } = await waitedFor(seat, `${base}${list(25)}`, 25);
        first[orders] = { api: await askedFor(house), shown };
        await seat.page.context().close();
      } finally {
        await house.close();
      }
    });

  async function onSlowMachine(seat: Seat, base: string): Promise<void> {
    const slow = await throttle(seat.page);
    for (const label of ['Horizon', 'Table']) {
      await seat.page.goto(`${base}/orders`);
      await seat.page.getByRole('button', { name: label, exact: true }).click();
      await slow(4);
      const { shown, answered } = await waitedForWithin(seat, base, list(100), 100);
      await slow(1);
      console.log(
        `${sign(answered <= wantedMs)} 100 orders (${label}), processor slowed 4 times, from another page of the admin: rows after ${shown.toFixed(0)} ms, a press answered after ${answered.toFixed(0)} ms (wanted: ${wantedMs})`,
      );
    }
  }

  it('feels the same however long it is', () => {
    for (const [what, of] of [
      ['answered by the API', 'api'],
      ['on screen', 'shown'],
    ] as const) {
      const [from, to] = [first[few]![of], first[many]![of]];
      console.log(
        `${sign(to / from <= wantedTimes)} first page ${what}: ${from.toFixed(0)} ms of ${few} orders, ${to.toFixed(0)} ms of ${many.toLocaleString('en')}: ${(to / from).toFixed(2)} times (wanted: ${wantedTimes})`,
      );
    }
  });
});
