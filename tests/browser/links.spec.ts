import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openBrowser, sitDown, type Seat } from '../support/browser.js';
import { openHouse, type House } from '../support/house.js';
import { sceneAt } from '../support/scenes.js';

/** Links are plain ones; those to our own pages are followed without loading everything again. */
describe('a link', () => {
  let house: House;
  let browser: Browser;
  let base: string;
  let seat: Seat;
  beforeAll(async () => {
    house = await openHouse({ environment: { ADMIN_DIR: 'apps/admin/dist' } });
    await house.app.listen(0, '127.0.0.1');
    base = await house.app.getUrl();
    browser = await openBrowser();
    await sceneAt(house, 'sent');
    seat = await sitDown(browser, base, 'una');
  });
  afterAll(async () => {
    await browser?.close();
    await house?.close();
  });

  const mark = () => seat.page.evaluate(() => void Object.assign(window, { loadedBefore: true }));
  const isMarked = () => seat.page.evaluate(() => 'loadedBefore' in window);
  const orders = () => seat.page.getByRole('link', { name: /^Orders/ }).first();

  it('to one of our pages keeps what is loaded, by mouse and by Enter, and can be gone back from', async () => {
    const { page } = seat;
    await mark();
    await orders().click();
    await page.getByRole('heading', { name: 'Orders', level: 1 }).waitFor();
    expect(new URL(page.url()).pathname).toBe('/orders');
    expect(await orders().getAttribute('aria-current')).toBe('page');
    await page.locator('.horizon__row a').first().focus();
    await page.keyboard.press('Enter');
    await page.waitForURL(/\/cases\/[0-9a-f-]{36}/);
    await page.goBack();
    await page.waitForURL(/\/orders$/);
    expect(await isMarked()).toBe(true);
  });

  it('to where one is leaves no step to go back over', async () => {
    const { page } = seat;
    const before = await page.evaluate(() => history.length);
    await orders().click();
    await orders().click();
    expect(await page.evaluate(() => history.length)).toBe(before);
    expect(await isMarked()).toBe(true);
  });

  it('opens beside with the key that the browser has for that', async () => {
    const { page } = seat;
    const [beside] = await Promise.all([
      page.context().waitForEvent('page'),
      orders().click({ modifiers: ['ControlOrMeta'] }),
    ]);
    await beside.getByRole('heading', { name: 'Orders', level: 1 }).waitFor();
    await beside.close();
    expect(await isMarked()).toBe(true);
  });

  it('to a file of the API hands the file over', async () => {
    const { page } = seat;
    await page.goto(`${base}/ledger`);
    await mark();
    const [file] = await Promise.all([
      page.waitForEvent('download'),
      page.locator('a[href^="/api/ledger.csv"]').click(),
    ]);
    expect(file.suggestedFilename()).toMatch(/\.csv$/);
    expect(await isMarked()).toBe(true);
  });

  it('within the page moves the focus there and asks for nothing', async () => {
    const { page } = seat;
    await page.locator('a.skip').focus();
    await page.keyboard.press('Enter');
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('main');
    expect(await isMarked()).toBe(true);
  });
});
