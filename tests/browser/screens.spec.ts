import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { axeFaults } from '../support/axe.js';
import { openBrowser, sitDown, sumShifts, type Seat } from '../support/browser.js';
import { looks } from '../support/days.js';
import { openHouse, type House } from '../support/house.js';
import { implant, sceneAt } from '../support/scenes.js';
import { countOf, screensOf, type Screen } from '../support/screens.js';

const { desk, phone } = looks;
/** Each role at one of the two looks, so that every screen is seen in both; all ten take twice as long. */
const everyLook = process.env['EVERY_LOOK'] === '1' ? looks : null;
const seats = {
  surgeon: { name: 'ilse', looks: everyLook ?? { desk } },
  coordinator: { name: 'una', looks: everyLook ?? { phone } },
  inventory: { name: 'oona', looks: everyLook ?? { phone } },
  administrator: { name: 'ada', looks: everyLook ?? { desk } },
  auditor: { name: 'ivo', looks: everyLook ?? { desk } },
};
/** More than this and a person would lose the line they were reading. */
const MOST_SHIFT = 0.05;
/** A small phone, and a desk whose browser shows everything four times as large (WCAG 2.2, 1.4.10 Reflow). */
const NARROW = { width: 320, height: 640 };

describe('every screen', () => {
  let house: House;
  let browser: Browser;
  let base: string;
  let screens: Screen[];
  beforeAll(async () => {
    house = await openHouse({ environment: { ADMIN_DIR: 'apps/admin/dist' } });
    await house.app.listen(0, '127.0.0.1');
    base = await house.app.getUrl();
    const [toSign, , inEye] = [
      await sceneAt(house, 'submitted'),
      await sceneAt(house, 'quarantined'),
      await sceneAt(house, 'accepted'),
      await sceneAt(house, 'rejected'),
    ];
    await implant(inEye);
    const una = await house.signIn('una');
    const first = async (list: string) => {
      const { body } = await una.get<{ items: { id: string }[] }>(`/api/${list}`);
      return body.items.slice(0, 1).map(({ id }) => id);
    };
    screens = screensOf({
      cases: [toSign.caseId, inEye.caseId],
      'cases.part': ['measurements', 'orders', 'lenses', 'history'],
      orders: [toSign.orderId, inEye.orderId],
      lenses: [inEye.lensId],
      'lenses/counts': [await countOf(house)],
      returns: await first('returns'),
      makers: await first('makers'),
      'outcomes.part': ['results', 'learning', 'visits', 'makers'],
    });
    browser = await openBrowser();
  });
  afterAll(async () => {
    await browser?.close();
    await house?.close();
  });

  it('is found by its route', () => {
    expect(screens.length).toBeGreaterThan(25);
    expect(screens.filter(({ path }) => path.includes(':') || path.includes('undefined'))).toEqual([]);
  });

  it('shows the whole record when it is opened from its list', async () => {
    const { page, troubles } = await sitDown(browser, base, 'una', desk);
    for (const [list, kind] of [
      ['cases', 'cases'],
      ['orders', 'orders'],
      ['lenses', 'lenses'],
      ['returns', 'returns'],
    ] as const) {
      await page.goto(`${base}/${list}`);
      await page.locator(`main a[href^="/${kind}/0"]`).first().click();
      await page.waitForURL(`**/${kind}/*`);
      await page.getByRole('heading', { level: 2 }).first().waitFor();
      expect(await page.getByRole('heading', { name: 'This screen broke' }).count(), list).toBe(0);
    }
    await page.context().close();
    expect(troubles).toEqual([]);
  });

  for (const [role, { name, looks }] of Object.entries(seats))
    for (const [look, options] of Object.entries(looks))
      it(`can be read by everybody and keeps still, for the ${role} at a ${look}`, async () => {
        const seat = await sitDown(browser, base, name, options);
        await sumShifts(seat.page);
        const faults: string[] = [];
        for (const { path } of screens) faults.push(...(await faultsOf(seat, base, path)));
        await seat.page.context().close();
        expect(faults).toEqual([]);
      });
});

/**
 * What a screen does wrong: rules of accessibility, what moved, what is read by scrolling sideways, the console, other
 * hosts, the same asked for twice.
 */
async function faultsOf({ page, troubles, asked }: Seat, base: string, path: string): Promise<string[]> {
  troubles.length = 0;
  asked.length = 0;
  await page.goto(`${base}${path}`);
  await page.locator('main h1, main h2').first().waitFor();
  await page.locator('.waiting-bar').first().waitFor({ state: 'detached' });
  const violations = await axeFaults(page);
  const shifted = await page.evaluate(() => (window as unknown as { shifted: number }).shifted);
  const sideways = await scrolledSideways(page);
  return [
    ...sideways.map((part) => `${path} at ${NARROW.width} px reaches out: ${part}`),
    ...violations.map((violation) => `${path} ${violation}`),
    ...(shifted > MOST_SHIFT ? [`${path} moves by ${shifted.toFixed(3)}`] : []),
    ...asked.filter((one, at) => asked.indexOf(one) < at).map((one) => `${path} asks twice for ${one}`),
    ...troubles.map((trouble) => `${path} ${trouble}`),
  ];
}

/** What reaches past the right edge of a narrow screen and makes the whole page scroll sideways. */
async function scrolledSideways(page: Page): Promise<string[]> {
  const size = page.viewportSize() ?? desk;
  await page.setViewportSize(NARROW);
  const parts = await page.evaluate(() => {
    const { scrollWidth, clientWidth } = document.documentElement;
    if (scrollWidth <= clientWidth) return [];
    const wide = [...document.querySelectorAll('main *, header *')].filter(
      (part) => part.getBoundingClientRect().right > clientWidth + 1,
    );
    return [
      `${scrollWidth - clientWidth} px`,
      ...wide.slice(0, 3).map((part) => part.outerHTML.slice(0, 100)),
    ];
  });
  await page.setViewportSize({ width: size.width, height: size.height });
  return parts;
}
