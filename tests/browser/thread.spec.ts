import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { choose, field, fill, openBrowser, sitDown, type Seat } from '../support/browser.js';
import { day } from '../support/eye.js';
import { openHouse, password, until, type House } from '../support/house.js';

/** One journey through the whole job in Chromium: coordinator, surgeon and inventory clerk, each at their own screen. */
describe('a lens goes from measurements to the eye and through an exchange, in the browser', () => {
  let house: House;
  let browser: Browser;
  let base: string;
  let una: Seat;
  let ilse: Seat;
  let oona: Seat;
  let caseUrl: string;

  beforeAll(async () => {
    house = await openHouse({ dispatching: true, environment: { ADMIN_DIR: 'apps/admin/dist' } });
    base = `http://127.0.0.1:${house.port}`;
    browser = await openBrowser();
    una = await sitDown(browser, base, 'una');
    ilse = await sitDown(browser, base, 'ilse');
    oona = await sitDown(browser, base, 'oona');
  });
  afterAll(async () => {
    await browser?.close();
    await house?.close();
  });

  // A person who looks at a failed run wants to see what everybody had before them.
  afterEach(async ({ task }) => {
    if (task.result?.state !== 'fail') return;
    for (const [name, seat] of Object.entries({ una, ilse, oona }))
      await seat?.picture(`failed-${name}`).catch(() => undefined);
  });

  const pressStep = (page: Page, name: string) =>
    page.getByRole('link', { name, exact: true }).first().click();
  const press = (page: Page, name: string | RegExp) => page.getByRole('button', { name }).last().click();
  const announced = async (): Promise<string> =>
    until(async () => {
      const clinic = house.network.clinics.find(({ code }) => code === 'EST')!;
      const orders = await house.database.work(clinic.staff.coordinator, ({ tx }) =>
        tx.lensOrder.findMany({ where: { state: 'shipped' } }),
      );
      return (orders.at(-1)?.announcedUnit as { labelText: string } | null)?.labelText;
    }, 'the shipping notice');

  const measure = async (
    kind: string,
    values: Record<string, string | number>,
    choices: Record<string, string> = {},
  ) => {
    const { page } = una;
    await page.goto(`${caseUrl}/measure?kind=${kind}`);
    await page.getByRole('button', { name: 'Keep the measurement' }).waitFor();
    for (const [name, value] of Object.entries(choices)) await choose(page, `values.${name}`, value);
    await fill(
      page,
      Object.fromEntries(Object.entries(values).map(([name, value]) => [`values.${name}`, value])),
    );
    await fill(page, { device: 'as in the clinic', takenOn: day(0) });
    await press(page, 'Keep the measurement');
    await page.getByText('The measurement is kept').first().waitFor();
  };

  it('1, 2: the coordinator opens a case and enters what was measured', async () => {
    const { page } = una;
    await page.goto(`${base}/cases/new`);
    await choose(page, 'eye', 'OD');
    await fill(page, { codeName: 'Thistle 7', birthYear: 1993 });
    await press(page, 'Open a case');
    await page.waitForURL(/\/cases\/[0-9a-f-]+\/measure/);
    caseUrl = page.url().replace(/\/measure.*/, '');
    await measure('procedure', { performedOn: day(600) }, { procedure: 'cross_linking' });
    // Plus cylinder, and an axis that can't be: the form says so at its field and keeps nothing.
    await page.goto(`${caseUrl}/measure?kind=refraction`);
    await fill(page, {
      'values.sphereD': -12,
      'values.cylinderD': 4,
      'values.axisDeg': 181,
      'values.vertexMm': 12,
      device: 'phoropter',
    });
    await press(page, 'Keep the measurement');
    await page.locator('.field__wrong, [aria-invalid="true"]').first().waitFor();
    await field(page, 'values.axisDeg').fill('120');
    await field(page, 'values.correctedDecimal').fill('0.8');
    await press(page, 'Keep the measurement');
    await page.getByText('The measurement is kept').first().waitFor();
    await measure(
      'keratometry',
      { flatD: 46, steepD: 50, steepAxisDeg: 120, kmaxD: 53, coneDistanceMm: 1.2 },
      { index: 'none' },
    );
    await measure('chamber', { depthMm: 3.6, cornealThicknessUm: 480 }, { from: 'epithelium' });
    await measure('dimensions', { sulcusMm: 11.6, verticalSulcusMm: 12, lensThicknessMm: 3.6 });
    await measure('health', { endothelialCellsPerMm2: 2700, angleGrade: 4 }, { pregnancy: 'no' });
    await page.goto(`${caseUrl}/measurements`);
    await page.getByText('−8.00 / −4.00 × 30').first().waitFor();
    await una.picture('thread-1-measured');
  });

  const planAndSubmit = async (picture: string) => {
    const { page } = una;
    await page.goto(`${caseUrl}/plan`);
    const maker = page.getByLabel('Maker', { exact: true });
    await maker.waitFor();
    const quillon = await maker.locator('option', { hasText: 'Quillon' }).first().getAttribute('value');
    await maker.selectOption(quillon);
    await page.getByText('The server computes the same for this lens.').waitFor();
    await una.picture(picture);
    await press(page, /Keep (this|the changed) plan/);
    await page.waitForURL(/\/(orders|cases)\/[0-9a-f-]+$/);
    await page.goto(caseUrl);
    await pressStep(page, 'Submit to the surgeon');
    await confirm(page, 'Submit to the surgeon');
  };

  /** Takes a plain step in the form that its address opens. */
  const confirm = async (page: Page, name: string) => {
    const dialog = page.getByRole('dialog');
    await dialog.waitFor();
    await dialog.getByRole('button', { name, exact: true }).click();
    await dialog.waitFor({ state: 'detached' });
  };

  const signIt = async (picture: string) => {
    const { page } = ilse;
    await page.goto(caseUrl);
    await pressStep(page, 'Read and sign');
    await field(page, 'password').fill('not the password');
    await press(page, /Sign as/);
    await page.getByText('This is not your password', { exact: false }).first().waitFor();
    await field(page, 'password').fill(password);
    await ilse.picture(picture);
    await press(page, /Sign as/);
    await page.waitForURL(/\/cases\//);
  };

  it('3, 4: the plan is kept, submitted, and signed by the surgeon alone', async () => {
    await planAndSubmit('thread-2-planned');
    await una.page.goto(caseUrl);
    await una.page.getByRole('heading', { name: /Thistle 7/ }).waitFor();
    expect(await una.page.getByRole('link', { name: 'Read and sign' }).count()).toBe(0);
    await signIt('thread-3-signing');
  });

  const placeAndReceive = async (pictures: [string, string]) => {
    const { page } = una;
    await page.goto(caseUrl);
    await pressStep(page, 'Place the order');
    await confirm(page, 'Place the order');
    const text = await announced();
    await page.goto(caseUrl);
    await page.getByText('shipped', { exact: false }).first().waitFor();
    await una.picture(pictures[0]);
    const desk = oona.page;
    await desk.goto(`${base}/arrivals`);
    const scan = desk.getByLabel('Scan or type the code on the pack');
    await scan.fill(text);
    await scan.press('Enter');
    await desk.getByText('It matches').waitFor();
    await oona.picture(pictures[1]);
    await field(desk, 'location').fill('shelf 3');
    await press(desk, 'Accept the lens');
    await desk.getByText('Accepted and reserved').first().waitFor();
  };

  it('5, 6, 7: it is placed, made, shipped, scanned and accepted', async () => {
    await placeAndReceive(['thread-4-shipped', 'thread-5-received']);
  });

  const implant = async (serialOf: 'reserved') => {
    const { page } = ilse;
    const lens = await page.evaluate(
      async ([url, state]) => {
        const answer = await fetch(`/api${new URL(url!).pathname}`);
        const { lenses } = (await answer.json()) as { lenses: { serial: string; state: string }[] };
        return lenses.find((one) => one.state === state)!.serial;
      },
      [caseUrl, serialOf],
    );
    await page.goto(`${caseUrl}?do=implant`);
    const dialog = page.getByRole('dialog');
    await dialog.waitFor();
    await fill(page, { serial: 'WRONG1', axisDeg: 30 });
    await press(page, 'Record the implantation');
    await page.getByText('Stop and compare', { exact: false }).first().waitFor();
    await field(page, 'serial').fill(lens);
    await press(page, 'Record the implantation');
    await dialog.waitFor({ state: 'detached' });
  };

  it('8, 9: the surgeon implants it, and the visits are entered', async () => {
    await implant('reserved');
    await measure('vault', { vaultUm: 1150 }, { lighting: 'bright' });
    await measure('refraction', {
      sphereD: 0.25,
      cylinderD: -0.5,
      axisDeg: 100,
      vertexMm: 12,
      correctedDecimal: 0.8,
      uncorrectedDecimal: 0.7,
    });
    await measure('lens_axis', { axisDeg: 30 });
    await ilse.page.goto(caseUrl);
    await ilse.page.getByText('above the intended', { exact: false }).first().waitFor();
    await ilse.picture('thread-6-vault-high');
  });

  it('10: the lens is exchanged for the size that the vault asks for, and the first one goes back', async () => {
    const { page } = ilse;
    await page.goto(`${caseUrl}?do=exchange`);
    const dialog = page.getByRole('dialog');
    await dialog.waitFor();
    await field(page, 'note').fill('The vault is far above the band.');
    await ilse.picture('thread-7-exchange');
    await press(page, /exchange/i);
    await dialog.waitFor({ state: 'detached' });
    await planAndSubmit('thread-8-exchange-plan');
    await signIt('thread-9-exchange-signing');
    await placeAndReceive(['thread-10-exchange-shipped', 'thread-11-exchange-received']);
    await implant('reserved');

    const desk = oona.page;
    await desk.goto(`${base}/`);
    await desk.getByText('To send back').first().waitFor();
    await desk.getByRole('link', { name: 'Send back' }).first().click();
    await press(desk, 'Send it back');
    const opened = desk.getByRole('dialog');
    await opened.waitFor();
    await field(desk, 'reason').fill('Vault too high, exchanged.');
    await opened.getByRole('button', { name: 'Send it back' }).click();
    await desk.waitForURL(/\/returns\//);
    await desk
      .getByRole('button', { name: 'Hand over the parcel' })
      .or(desk.getByRole('link', { name: 'Hand over the parcel' }))
      .first()
      .click();
    await field(desk, 'tracking').fill('BACK 7');
    await desk.getByRole('dialog').getByRole('button', { name: 'Hand over the parcel' }).click();
    // Nobody reloads: the maker's word comes in by itself.
    await desk.getByText('Credit received').waitFor({ timeout: 90_000 });
    await oona.picture('thread-12-credited');
  });

  it('shows both lenses and why on the case', async () => {
    const { page } = una;
    await page.goto(`${caseUrl}/lenses`);
    await page.getByText('credited').first().waitFor();
    await page.getByText('implanted').first().waitFor();
    await una.picture('thread-13-both-lenses');
    await page.goto(`${caseUrl}/history`);
    await page.getByText('Una Marsh').nth(1).waitFor();
    await una.picture('thread-14-history');
  });

  it('had no console error and spoke with no other host', () => {
    // A refused form is answered with a 4xx, which Chromium writes to its console as a failed load.
    const expected = /the server responded with a status of (400|422)/;
    for (const seat of [una, ilse, oona])
      expect(seat.troubles.filter((line) => !expected.test(line))).toEqual([]);
  });
});
