import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openBrowser, sitDown, type Seat } from '../support/browser.js';
import { Day, looks } from '../support/days.js';
import { openHouse, until, type House } from '../support/house.js';
import { orderOf, sceneAt, type Scene } from '../support/scenes.js';

/** What a person sees where nothing is there, nothing comes, something fails, or somebody else was quicker. */
describe('the admin', () => {
  let house: House;
  let browser: Browser;
  let base: string;
  beforeAll(async () => {
    house = await openHouse({ environment: { ADMIN_DIR: 'apps/admin/dist' } });
    await house.app.listen(0, '127.0.0.1');
    base = await house.app.getUrl();
    browser = await openBrowser();
  });
  afterAll(async () => {
    await browser?.close();
    await house?.close();
  });

  const enter = (): Promise<Seat> => sitDown(browser, base, 'una', looks.desk);
  const place = (page: Page, name: string) =>
    page.getByRole('navigation', { name: 'Places' }).getByRole('link', { name });

  /** The surgeon sends an order back from somewhere else. */
  async function moveOn(scene: Scene): Promise<void> {
    const ilse = await house.signIn('ilse');
    const { version } = await orderOf(scene);
    const why = 'The axis was read again.';
    const moved = await ilse.post(`/api/orders/${scene.orderId}/request-changes`, { version, why });
    expect(moved.status).toBe(200);
  }

  it('keeps its frame without a connection, and goes on when there is one', async () => {
    const { page, picture } = await enter();
    await page.context().setOffline(true);
    await page.getByText('No connection. You see what was loaded last').waitFor();
    await place(page, 'Shelf').click();
    await page.getByRole('heading', { name: 'This page did not come' }).waitFor();
    await picture('state-offline');
    // What was loaded is still there.
    await place(page, 'Today').click();
    await page.getByRole('heading', { level: 1, name: /^Today/ }).waitFor();
    await place(page, 'Shelf').click();
    await page.getByRole('heading', { name: 'This page did not come' }).waitFor();
    await page.context().setOffline(false);
    await page.getByRole('button', { name: 'Try again' }).click();
    await page.getByRole('heading', { level: 1, name: 'Shelf' }).waitFor();
    expect(await page.getByText('No connection.').count()).toBe(0);
    await page.context().close();
  });

  it('says what failed in one sentence, and tries again', async () => {
    const { page, picture } = await enter();
    const failing = (url: URL) => url.pathname === '/api/orders';
    await page.route(failing, (route) =>
      route.fulfill({
        status: 500,
        contentType: 'application/problem+json',
        body: JSON.stringify({ type: 'about:blank', title: 'x', status: 500, detail: 'The well is dry.' }),
      }),
    );
    await place(page, 'Orders').click();
    const failure = page.locator('main .state');
    await failure.getByText('The well is dry.').waitFor();
    await picture('state-failed');
    await page.unroute(failing);
    await failure.getByRole('button', { name: 'Try again' }).click();
    // No order was placed here yet, so what comes is another such state.
    await failure.getByRole('heading', { name: 'Nothing is open now' }).waitFor();
    expect(await page.getByText('The well is dry.').count()).toBe(0);
    await picture('state-nothing-open');
    await page.context().close();
  });

  it('keeps the rows that were there when they cannot be read again, and says so', async () => {
    const scene = await sceneAt(house, 'submitted', { codeName: 'Alder 3' });
    const { page, picture } = await enter();
    await place(page, 'Orders').click();
    await page.getByRole('heading', { level: 1, name: 'Orders' }).waitFor();
    await page.locator('main').getByText('Alder 3').waitFor();
    const failing = (url: URL) => url.pathname === '/api/orders';
    await page.route(failing, (route) => route.abort());
    await moveOn(scene);
    const stale = page.locator('main').getByRole('status').filter({ hasText: 'could not be read again' });
    await stale.waitFor();
    expect(await page.locator('main').getByText('Alder 3').count()).toBe(1);
    await picture('state-stale');
    await page.unroute(failing);
    await stale.getByRole('button', { name: 'Try again' }).click();
    await stale.waitFor({ state: 'detached' });
    await page.locator('main').getByText('Alder 3').waitFor();
    await page.context().close();
  });

  it('reads again what moved while nobody could tell it', async () => {
    const scene = await sceneAt(house, 'submitted', { codeName: 'Linden 5' });
    const { page } = await enter();
    // A stream that ends as soon as it is there, and is taken up again: no change is told by it.
    await page.route('**/api/events', (route) =>
      route.fulfill({ contentType: 'text/event-stream', body: ': connected\n\n' }),
    );
    await page.goto(`${base}/orders/${scene.orderId}`);
    await page.locator('main').getByText('submitted').first().waitFor();
    await moveOn(scene);
    await page.locator('main').getByText('changes requested').first().waitFor();
    await page.context().close();
  });

  it('listens while it is looked at, and reads again what moved meanwhile', async () => {
    const scene = await sceneAt(house, 'submitted', { codeName: 'Hazel 2' });
    const { page, asked } = await enter();
    const look = (hidden: boolean) =>
      page.evaluate((value) => {
        Object.defineProperty(document, 'hidden', { configurable: true, value });
        document.dispatchEvent(new Event('visibilitychange'));
      }, hidden);
    const streams = () => asked.filter((address) => address === '/api/events').length;
    await page.goto(`${base}/orders/${scene.orderId}`);
    await page.locator('main').getByText('submitted').first().waitFor();
    await until(async () => streams() === 2, 'a stream for each of two pages');
    const ended = page.waitForEvent('requestfailed', (request) => request.url().endsWith('/api/events'));
    await look(true);
    await ended;
    await moveOn(scene);
    await look(false);
    await page.locator('main').getByText('changes requested').first().waitFor();
    expect(streams()).toBe(3);
    await page.context().close();
  });

  it('reads again what moved before a tab was first looked at', async () => {
    const scene = await sceneAt(house, 'submitted', { codeName: 'Willow 6' });
    const { page, asked } = await enter();
    await page.addInitScript(() =>
      Object.defineProperty(document, 'hidden', { configurable: true, value: true }),
    );
    asked.length = 0;
    await page.goto(`${base}/orders/${scene.orderId}`);
    await page.locator('main').getByText('submitted').first().waitFor();
    await moveOn(scene);
    expect(asked).not.toContain('/api/events');
    await page.evaluate(() => {
      Object.defineProperty(document, 'hidden', { configurable: true, value: false });
      document.dispatchEvent(new Event('visibilitychange'));
    });
    await page.locator('main').getByText('changes requested').first().waitFor();
    await page.context().close();
  });

  it('says that nothing matches, and what to do then', async () => {
    const { page, picture } = await enter();
    await place(page, 'Orders').click();
    await page.locator('main input[type="search"]').fill('no such order');
    await page.getByText('Nothing matches').waitFor();
    await picture('state-nothing-matches');
    await page.context().close();
  });

  it('says that somebody was quicker, keeps what was written, and shows what is true now', async () => {
    const scene = await sceneAt(house, 'submitted', { codeName: 'Rowan 8' });
    const seat = await enter();
    const { page, picture } = seat;
    // Nothing tells this page that the order has moved.
    await page.route('**/api/events', (route) => route.abort());
    await page.goto(`${base}/orders/${scene.orderId}?do=cancel`);
    const dialog = page.getByRole('dialog');
    await dialog.waitFor();
    await moveOn(scene);
    await new Day(seat, looks.desk).fill('Reason', 'The person has moved away.');
    await dialog.locator('.form__actions button').first().click();
    await dialog.getByText('Somebody was faster').waitFor();
    await picture('state-moved');
    expect(await dialog.locator('textarea').inputValue()).toBe('The person has moved away.');
    expect((await orderOf(scene)).state).toBe('changes_requested');
    await dialog.getByRole('button', { name: 'Load the present state' }).click();
    await dialog.waitFor({ state: 'detached' });
    await page.getByText('changes requested').first().waitFor();
    await page.context().close();
  });
});
