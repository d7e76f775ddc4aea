import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { openBrowser, sitDown, type Seat } from '../support/browser.js';
import { openHouse, password, type House } from '../support/house.js';
import { Keys } from '../support/keyboard.js';

/** The main thread with no mouse: nothing is clicked or filled in, and each control is found by its role and name. */
describe('a lens goes from measurements to the vault check by keyboard alone', () => {
  let house: House;
  let browser: Browser;
  const seats: Record<string, Seat> = {};
  let una: Keys;
  let ilse: Keys;
  let oona: Keys;

  beforeAll(async () => {
    house = await openHouse({ dispatching: true, environment: { ADMIN_DIR: 'apps/admin/dist' } });
    browser = await openBrowser();
    const sit = async (name: string) => {
      const seat = await sitDown(browser, `http://127.0.0.1:${house.port}`, name, { typed: true });
      seats[name] = seat;
      return Keys.of(seat.page);
    };
    una = await sit('una');
    ilse = await sit('ilse');
    oona = await sit('oona');
  });
  afterAll(async () => {
    await browser?.close();
    await house?.close();
  });
  afterEach(async ({ task }) => {
    if (task.result?.state !== 'fail') return;
    for (const [name, seat] of Object.entries(seats))
      await seat.picture(`failed-keyboard-${name}`).catch(() => undefined);
  });

  const heard = (keys: Keys, text: string | RegExp) =>
    keys.page.getByRole('status').filter({ hasText: text }).first().waitFor();
  /** A dialog has the focus in it, its step is taken, and the focus comes back to the page. */
  const takeStep = async (keys: Keys, button: string | RegExp) => {
    await keys.page.getByRole('dialog').waitFor();
    expect(await keys.page.evaluate(() => document.activeElement?.closest('dialog') !== null)).toBe(true);
    await keys.follow('button', button);
    await keys.page.getByRole('dialog').waitFor({ state: 'detached' });
    const at = await keys.page.evaluate(
      () => document.activeElement?.closest('main, .frame__side')?.className,
    );
    expect(at, 'the focus after a step').toBeDefined();
  };

  const measure = async (kind: string) => {
    const { choices = [], values } = eye[kind]!;
    const form = una.page.url();
    for (const choice of choices) await una.choose(choice);
    for (const [name, value] of values) await una.write(name, value);
    if (kind === 'earlier procedures') {
      await una.to('date', 'Date');
      // A day that reads the same, whichever comes first: day or month.
      await una.type(`1010${new Date().getFullYear() - 2}`);
    }
    await una.write('Device', 'as in the clinic');
    await una.press('Enter');
    await una.page.waitForURL(({ href }) => href !== form);
    await heard(una, 'The measurement is kept');
  };
  const order = () =>
    house.database.work(
      house.network.clinics.find(({ code }) => code === 'EST')!.staff.coordinator,
      ({ tx }) => tx.lensOrder.findFirstOrThrow({ where: { state: { in: ['shipped', 'accepted'] } } }),
    );
  const packText = async () => ((await order()).announcedUnit as { labelText: string }).labelText;
  const serial = async () => ((await order()).announcedUnit as { serial: string }).serial;

  it('begins with the way past the menu, and finds what is to be done by its name', async () => {
    await una.press('Tab');
    expect(await una.focused()).toEqual({ role: 'link', name: 'Skip to the page' });
    await una.press('Enter');
    expect((await una.focused()).role).toBe('main');
    await una.find('open a c');
    await una.page.waitForURL('**/cases/new');
  });

  it('opens a case and measures the eye, from one form to the next', async () => {
    await una.choose('right eye');
    await una.write('Code name', 'Sorrel 3');
    await una.write('Year of birth', '1993');
    await una.press('Enter');
    await heard(una, 'The case is open');
    await una.page.waitForURL('**/measure');
    const asked: string[] = [];
    do {
      const kind = (await una.page.getByRole('heading', { level: 2 }).first().textContent())!;
      asked.push(kind);
      await measure(kind);
      await una.page.getByRole('heading', { level: 2 }).filter({ hasNotText: kind }).first().waitFor();
    } while (!una.page.url().endsWith('/measurements'));
    expect(asked).toHaveLength(new Set(asked).size);
    await una.follow('link', 'Measure');
    await una.follow('link', 'earlier procedures');
    await measure('earlier procedures');
    await seats['una']!.picture('keyboard-1-measured');
  });

  it('plans the lens and submits it', async () => {
    await una.follow('link', 'Plan');
    await una.to('combobox', 'Maker');
    await una.type('Quillon');
    await una.page.getByText('The server computes the same for this lens.').waitFor();
    await seats['una']!.picture('keyboard-2-planned');
    await una.follow('button', 'Keep this plan');
    await heard(una, 'The plan is kept');
    await una.follow('link', 'Submit to the surgeon');
    await takeStep(una, 'Submit to the surgeon');
    await heard(una, 'Submitted');
  });

  it('is signed by the surgeon with the password', async () => {
    await ilse.follow('link', 'Read and sign');
    await ilse.write('Your password, once more', 'not the password');
    await ilse.press('Enter');
    await ilse.page.getByRole('alert').filter({ hasText: 'not your password' }).waitFor();
    expect(await ilse.focused()).toEqual({ role: 'textbox', name: 'Your password, once more' });
    await ilse.write('Your password, once more', password);
    await seats['ilse']!.picture('keyboard-3-signing');
    await ilse.press('Enter');
    await heard(ilse, 'Signed');
  });

  it('is placed, made and shipped', async () => {
    await una.find('today');
    await una.follow('link', 'Place the order');
    await takeStep(una, 'Place the order');
    await heard(una, 'Placed');
    // Nobody reloads: what the maker says comes in by itself.
    await una.page.getByText('shipped', { exact: false }).first().waitFor({ timeout: 60_000 });
  });

  it('is scanned, compared and accepted', async () => {
    await oona.find('arriv');
    await oona.page.getByLabel('Scan or type the code on the pack').waitFor();
    expect((await oona.focused()).name).toBe('Scan or type the code on the pack');
    for (const part of (await packText()).split(/(\u001d)/)) {
      if (part === '\u001d') await oona.press('Control+]');
      else await oona.type(part);
    }
    await oona.press('Enter');
    await heard(oona, 'It matches');
    expect(await oona.focused()).toEqual({ role: 'textbox', name: 'Where it is put' });
    await oona.type('shelf 3');
    await seats['oona']!.picture('keyboard-4-received');
    await oona.press('Enter');
    await heard(oona, 'Accepted and reserved');
    expect((await oona.focused()).name).toBe('Next parcel');
  });

  it('is put into the eye, and its vault is checked', async () => {
    await ilse.find('Sorrel');
    await ilse.follow('link', 'Record surgery');
    await ilse.page.getByRole('dialog').waitFor();
    expect((await ilse.focused()).name).toBe('Serial, read off the pack');
    await ilse.type(await serial());
    await ilse.write('Axis where the lens came to lie', '30');
    await takeStep(ilse, 'Record the implantation');
    await heard(ilse, 'The implantation is on record');
    await una.find('Sorrel');
    await una.follow('link', 'Enter the visit');
    await measure('vault');
    await ilse.page.getByText('intended vault', { exact: false }).first().waitFor();
    await seats['ilse']!.picture('keyboard-5-vault');
  });

  it('had no console error and spoke with no other host', () => {
    // A refused form is answered with a 4xx, which Chromium writes to its console as a failed load.
    const expected = /the server responded with a status of (400|422)/;
    for (const [name, { troubles }] of Object.entries(seats))
      expect(
        troubles.filter((line) => !expected.test(line)),
        name,
      ).toEqual([]);
  });
});

interface Filled {
  readonly choices?: readonly string[];
  readonly values: readonly (readonly [RegExp, string])[];
}

/** What is entered of each kind; the product says in which order. */
const eye: Record<string, Filled> = {
  refraction: {
    values: [
      [/^Sphere/, '-8'],
      [/^Cylinder/, '-4'],
      [/^Axis/, '30'],
      [/^Vertex/, '12'],
      [/^Acuity with spec/, '0.8'],
    ],
  },
  'keratometry and tomography': {
    choices: ['none'],
    values: [
      [/^Flat/, '46'],
      [/^Steep mer/, '50'],
      [/^Axis of the steep/, '120'],
      [/Kmax/, '53'],
      [/^Cone, distance/, '1.2'],
    ],
  },
  'chamber depth': {
    choices: ['epithelium'],
    values: [
      [/^Depth/, '3.6'],
      [/^Thickness of the cornea/, '480'],
    ],
  },
  dimensions: {
    values: [
      [/^Sulcus to sulcus, hor/, '11.6'],
      [/^Sulcus to sulcus, ver/, '12'],
      [/^Thickness of the crys/, '3.6'],
    ],
  },
  'eye health': {
    choices: ['no'],
    values: [
      [/^Endothelial/, '2700'],
      [/^Angle/, '4'],
    ],
  },
  'earlier procedures': { choices: ['corneal cross-linking'], values: [] },
  vault: { choices: ['bright light'], values: [[/^Vault/, '500']] },
};
