import { readFileSync } from 'node:fs';
import { cpus, release } from 'node:os';
import { gzipSync } from 'node:zlib';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openBrowser, sitDown, sumShifts, type Seat } from '../../support/browser.js';
import { looks } from '../../support/days.js';
import { openHouse, type House } from '../../support/house.js';
import { implant, sceneAt } from '../../support/scenes.js';
import { countOf, screensOf } from '../../support/screens.js';
import { sign } from './waiting.js';

const wantedShift = 0.05;
const wantedBytes = 250_000;

describe('the admin', { timeout: 1_800_000 }, () => {
  let house: House;
  let browser: Browser;
  let base: string;
  beforeAll(async () => {
    house = await openHouse({ environment: { ADMIN_DIR: 'apps/admin/dist' } });
    await house.app.listen(0, '127.0.0.1');
    base = await house.app.getUrl();
    browser = await openBrowser();
    const [processor] = cpus();
    console.log(
      `${cpus().length} × ${processor?.model ?? 'unknown'}, Linux ${release()}, Node ${process.version}, Chromium ${browser.version()}`,
    );
  });
  afterAll(async () => {
    await browser?.close();
    await house?.close();
  });

  it('loads so much JavaScript at first', () => {
    const page = readFileSync('apps/admin/dist/index.html', 'utf8');
    const scripts = [...page.matchAll(/(?:src|href)="(\/[^"]+\.js)"/g)].map(([, path]) => path!);
    const bytes = scripts
      .map((path) => gzipSync(readFileSync(`apps/admin/dist${path}`)).length)
      .reduce((a, b) => a + b, 0);
    console.log(
      `${sign(bytes <= wantedBytes)} initial JavaScript: ${(bytes / 1000).toFixed(1)} kB, compressed (wanted: ${wantedBytes / 1000})`,
    );
    expect(bytes).toBeGreaterThan(0);
  });

  it('moves so much on each screen', async () => {
    const scenes = {
      toSign: await sceneAt(house, 'submitted'),
      quarantined: await sceneAt(house, 'quarantined'),
      inEye: await sceneAt(house, 'accepted'),
    };
    await sceneAt(house, 'rejected');
    await implant(scenes.inEye);
    const una = await house.signIn('una');
    const first = async (list: string) =>
      (await una.get<{ items: { id: string }[] }>(`/api/${list}`)).body.items.slice(0, 1).map(({ id }) => id);
    const screens = screensOf({
      cases: [scenes.inEye.caseId],
      'cases.part': ['measurements', 'orders', 'lenses', 'history'],
      orders: [scenes.toSign.orderId],
      lenses: [scenes.inEye.lensId],
      'lenses/counts': [await countOf(house)],
      returns: await first('returns'),
      makers: await first('makers'),
      'outcomes.part': ['results', 'learning', 'visits', 'makers'],
    });
    const desk = await sitDown(browser, base, 'una', looks.desk);
    const phone = await sitDown(browser, base, 'una', looks.phone);
    for (const { page } of [desk, phone]) await sumShifts(page);
    const shiftOf = async ({ page }: Seat, path: string): Promise<number> => {
      await page.goto(`${base}${path}`);
      await page.locator('main h1, main h2').first().waitFor();
      await page.locator('.waiting-bar').first().waitFor({ state: 'detached' });
      return page.evaluate(() => (window as unknown as { shifted: number }).shifted);
    };
    console.log(`layout shift: desk, phone (wanted: below ${wantedShift})`);
    for (const { route, path } of screens) {
      const seen = [await shiftOf(desk, path), await shiftOf(phone, path)];
      const shown = path.replaceAll(/[0-9a-f-]{36}/g, ':id');
      console.log(
        `${sign(Math.max(...seen) < wantedShift)} ${shown || route}: ${seen.map((one) => one.toFixed(3)).join(', ')}`,
      );
    }
    for (const { page } of [desk, phone]) await page.context().close();
  });
});
