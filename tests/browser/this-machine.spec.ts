import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { choose, openBrowser, sitDown, type Seat } from '../support/browser.js';
import { openHouse, password, type House } from '../support/house.js';

/** What is chosen for the machine on which one sits: the language and how light it is. */
describe('this machine', () => {
  let house: House;
  let browser: Browser;
  let seat: Seat;
  beforeAll(async () => {
    house = await openHouse({ environment: { ADMIN_DIR: 'apps/admin/dist' } });
    await house.app.listen(0, '127.0.0.1');
    browser = await openBrowser();
    seat = await sitDown(browser, await house.app.getUrl(), 'una');
  });
  afterAll(async () => {
    await browser?.close();
    await house?.close();
  });

  const menu = () => seat.page.locator('details.account summary').click();
  const html = () =>
    seat.page.evaluate(() => ({ lang: document.documentElement.lang, ...document.documentElement.dataset }));

  it('keeps a language and a mode that are chosen in the menu', async () => {
    const { page } = seat;
    await menu();
    await choose(page, 'mode', 'dark');
    expect(await html()).toMatchObject({ mode: 'dark' });
    await choose(page, 'language', 'de');
    await page.getByRole('heading', { name: 'Heute', level: 1 }).waitFor();
    await page.reload();
    await page.getByRole('heading', { name: 'Heute', level: 1 }).waitFor();
    expect(await html()).toEqual({ lang: 'de', mode: 'dark' });
  });

  it('goes on in the language that was chosen while signing in', async () => {
    const { page } = seat;
    await menu();
    await page.getByRole('button', { name: 'Abmelden' }).click();
    await page.getByRole('button', { name: 'English' }).click();
    await page.getByLabel('Email').fill('una@lensferry.example');
    await page.getByLabel('Password', { exact: true }).fill(password);
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByRole('heading', { name: /^Today/ }).waitFor();
    expect(await html()).toMatchObject({ lang: 'en' });
    expect(seat.troubles).toEqual([]);
  });

  it('shows in the dark nothing light before it is there', async () => {
    const context = await browser.newContext({ colorScheme: 'dark', javaScriptEnabled: false });
    const page = await context.newPage();
    await page.goto(await house.app.getUrl());
    await page.locator('.shell__ferry').waitFor();
    expect(await page.evaluate(() => getComputedStyle(document.body).backgroundColor)).toBe(
      'rgb(15, 23, 25)',
    );
    await context.close();
  });
});
