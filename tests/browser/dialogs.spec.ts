import { readdirSync, readFileSync } from 'node:fs';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { axeFaults } from '../support/axe.js';
import { openBrowser, sitDown } from '../support/browser.js';
import { looks } from '../support/days.js';
import { openHouse, type House } from '../support/house.js';
import { dialogPages, type DialogPage } from '../support/dialog-pages.js';

const look = process.env['EVERY_LOOK'] === '1' ? looks.phone : looks.desk;

/** Each dialog of the product is opened by its own button, and put away again, by keyboard. */
describe('every dialog', () => {
  let house: House;
  let browser: Browser;
  let base: string;
  let pages: Record<string, DialogPage[]>;
  beforeAll(async () => {
    house = await openHouse({ environment: { ADMIN_DIR: 'apps/admin/dist' } });
    await house.app.listen(0, '127.0.0.1');
    base = await house.app.getUrl();
    pages = await dialogPages(house);
    browser = await openBrowser();
  });
  afterAll(async () => {
    await browser?.close();
    await house?.close();
  });

  const opened = new Map<string, string>();
  for (const name of ['una', 'ilse', 'oona', 'ada'])
    it(`of ${name} can be read by everybody, holds the focus and gives it back`, async () => {
      const { page, troubles } = await sitDown(browser, base, name, look);
      const faults: string[] = [];
      for (const { path, openers, before } of pages[name]!) {
        await page.goto(`${base}${path}`);
        await page.locator('main h1').first().waitFor();
        await page.locator('.waiting-bar').first().waitFor({ state: 'detached' });
        if (before) await page.locator(before).first().click();
        // What is for a wider or a narrower screen is hidden.
        const shown = page.locator(openers).filter({ visible: true });
        await shown.first().waitFor();
        for (let i = 0; i < (await shown.count()); i++) {
          const opener = shown.nth(i);
          const label = ((await opener.textContent()) ?? '').trim();
          if (opened.has(label)) continue;
          opened.set(label, path);
          for (const fault of await faultsOf(page, opener))
            faults.push(`${name} ${path} "${label}": ${fault}`);
        }
      }
      await page.context().close();
      expect(faults).toEqual([]);
      expect(troubles).toEqual([]);
    });

  it('was opened: none of the source is without a page here', () => {
    const titles = [...opened.keys()];
    expect(titles.length).toBeGreaterThan(30);
    const files = (readdirSync('apps/admin/src', { recursive: true }) as string[])
      // The frame of every step's dialog is none by itself.
      .filter((file) => file.endsWith('.tsx') && file !== 'shared/forms/StepDialog.tsx')
      .filter((file) => /<(Step)?Dialog[<\s]/.test(readFileSync(`apps/admin/src/${file}`, 'utf8')));
    expect(files.sort()).toEqual(
      Object.values(pages)
        .flat()
        .flatMap(({ files: of }) => of)
        .filter((file, i, all) => all.indexOf(file) === i)
        .sort(),
    );
  });
});

/** Opens a dialog with Enter and closes it with Escape; says what was wrong in between. */
async function faultsOf(page: Page, opener: Locator): Promise<string[]> {
  const faults: string[] = [];
  await opener.focus();
  await page.keyboard.press('Enter');
  const dialog = page.locator('dialog[open]');
  await dialog.waitFor();
  const where = () =>
    page.evaluate(() => {
      const at = document.activeElement;
      return at === document.body
        ? 'body'
        : at?.closest('dialog')
          ? 'dialog'
          : `${at?.outerHTML.slice(0, 90)}`;
    });
  if ((await where()) !== 'dialog') faults.push(`the focus is not led in, but at ${await where()}`);
  if (((await dialog.getAttribute('aria-labelledby')) ?? '') === '') faults.push('it has no name');
  faults.push(...(await axeFaults(page, 'dialog[open]')));
  const stops = await dialog.locator('a, button, input, select, textarea, summary').count();
  for (let tabs = 0; tabs <= stops; tabs++) {
    await page.keyboard.press('Tab');
    const at = await where();
    // Between its last and first control the browser's own bar has the focus.
    if (at !== 'dialog' && at !== 'body') faults.push(`the focus escapes to ${at}`);
  }
  await page.keyboard.press('Escape');
  await dialog.waitFor({ state: 'detached' });
  const back = await opener.evaluate((element) => element === document.activeElement);
  if (!back) faults.push(`the focus does not come back, but goes to ${await where()}`);
  return faults;
}
