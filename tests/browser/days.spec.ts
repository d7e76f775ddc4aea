import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openBrowser, sitDown } from '../support/browser.js';
import { Day, looks, type Look } from '../support/days.js';
import { day } from '../support/eye.js';
import { openHouse, password, type House } from '../support/house.js';
import { implant, orderOf, sceneAt, type Scene } from '../support/scenes.js';

const everyLook = process.env['EVERY_LOOK'] === '1' ? looks : null;
const { desk, phone } = looks;

/**
 * The working day of each role with mouse or thumb, ending in something done: at a desk or on a phone, as that role
 * mostly has it; with EVERY_LOOK=1 at both.
 */
describe('the day of', () => {
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

  type Work = (day: Day, look: string) => Promise<void>;
  const days: Record<string, { name: string; work: Work; seen: Record<string, Look> }> = {
    'a surgeon': { name: 'ilse', work: surgeon, seen: { desk } },
    'a coordinator': { name: 'una', work: coordinator, seen: { desk } },
    'an inventory clerk': { name: 'oona', work: inventory, seen: { phone } },
    'an administrator': { name: 'ada', work: administrator, seen: { desk } },
    'an auditor': { name: 'ivo', work: auditor, seen: { phone } },
  };
  for (const [who, { name, work, seen }] of Object.entries(days))
    for (const [at, look] of Object.entries<Look>(everyLook ?? seen))
      it(`${who}, at a ${at}`, async () => {
        const seat = await sitDown(browser, base, name, look);
        try {
          await work(new Day(seat, look), at);
        } catch (error) {
          await seat.picture(`failed-day-${name}-${at}`);
          throw error;
        }
        await seat.page.context().close();
        expect(seat.troubles).toEqual([]);
      });

  /** Signs a plan, enters a vault, and decides for an exchange. */
  async function surgeon(today: Day, look: string): Promise<void> {
    await sceneAt(house, 'submitted', { codeName: `Alder ${look}` });
    const inEye = await sceneAt(house, 'accepted', { codeName: `Birch ${look}` });
    await implant(inEye);
    await today.go('Today');
    await today.act(`Alder ${look}`, 'Read and sign');
    await today.fill('Your password, once more', password);
    await today.seat.picture(`day-surgeon-${look}-1-sign`);
    await today.button(/^Sign as/);
    await today.heard('Signed. The order can be placed now.');

    await today.go('Cases');
    await today.link(`Birch ${look} · right eye`);
    await today.link('Enter the visit');
    await today.fill(/^Vault/, '1150');
    await today.choose('bright light');
    await today.fill('Device', 'optical section');
    await today.button('Keep the measurement');
    await today.heard('The measurement is kept');

    await today.go('Today');
    await today.act(`Birch ${look}`, 'Look at the vault');
    await today.seat.picture(`day-surgeon-${look}-2-exchange`);
    await today.take('Open the exchange', { 'What was seen': 'The vault is far above the band.' });
    await today.heard('The exchange is open');
    await today.go('Exchanges');
    await today.sees(`Birch ${look}`);
    await today.seat.picture(`day-surgeon-${look}-3-exchanges`);
  }

  /** Places an order with a maker that takes no messages, enters its answer, sets and moves theatre, and chases. */
  async function coordinator(today: Day, look: string): Promise<void> {
    await sceneAt(house, 'approved', { codeName: `Cedar ${look}`, maker: 'FENNICK' });
    await sceneAt(house, 'acknowledged', { codeName: `Damson ${look}` });
    await today.go('Today');
    await today.act(`Cedar ${look}`, 'Place the order');
    await today.take('Place the order');
    await today.heard('Placed. The order is going out.');
    await today.link('It was handed over');
    await today.take('It was handed over');
    await today.link('Enter the maker’s answer');
    await today.take('Enter the maker’s answer', { 'Promised for': day(-30) });
    await today.heard('The answer is on record');
    await today.seat.picture(`day-coordinator-${look}-1-answered`);

    await today.link(new RegExp(`To the case Cedar ${look}`));
    for (const on of [day(-20), day(-60)]) {
      await today.link('Set theatre date');
      await today.take('Set theatre date', { 'Theatre date': on });
      await today.heard('The theatre date is set');
    }
    await today.seat.picture(`day-coordinator-${look}-2-moved`);

    await today.go('Orders');
    await today.link(new RegExp(`Damson ${look}`));
    await today.link(/^Open order/);
    await today.button('Ask the maker');
    await today.seat.picture(`day-coordinator-${look}-3-chase`);
    await today.take('Ask the makers now');
    await today.heard('The question is going out');
  }

  /** Takes a parcel in, puts another in quarantine, sees both on the shelf, and sends a lens back. */
  async function inventory(today: Day, look: string): Promise<void> {
    const shipped = [
      await sceneAt(house, 'shipped', { codeName: `Elm ${look}` }),
      await sceneAt(house, 'shipped', { codeName: `Fir ${look}` }),
    ];
    await sceneAt(house, 'rejected', { codeName: `Gorse ${look}` });
    await today.go('Today');
    await today.act(`Elm ${look}`, 'Receive');
    const [elm, fir] = await Promise.all(shipped.map(packText));
    const scan = today.page.getByLabel('Scan or type the code on the pack');
    await scan.fill(elm!);
    await scan.press('Enter');
    await today.sees('It matches');
    await today.fill('Where it is put', 'shelf 3');
    await today.seat.picture(`day-inventory-${look}-1-match`);
    await today.button('Accept the lens');
    await today.heard('Accepted and reserved');
    await today.button('Next parcel');

    await scan.fill(fir!);
    await scan.press('Enter');
    await today.sees('It matches');
    await today.button('Put it in quarantine instead');
    await today.fill('Where it is put apart', 'box 1');
    await today.fill('Reason', 'The seal looks opened.');
    await today.button('Put it in quarantine');
    await today.heard('In quarantine');
    await today.go('Shelf');
    await today.sees(`Elm ${look}`);
    await today.sees(`Fir ${look}`);
    await today.seat.picture(`day-inventory-${look}-2-shelf`);

    await today.go('Today');
    await today.act(`Gorse ${look}`, 'Enter the authorisation');
    await today.button('Enter the authorisation');
    await today.take('Enter the authorisation', { 'Authorisation of the maker': 'RA-77' });
    await today.button('Hand over the parcel');
    await today.take('Hand over the parcel', { 'Tracking number': 'BACK 7' });
    await today.heard('On record: handed over');
    await today.seat.picture(`day-inventory-${look}-3-return`);
  }

  /** Invites somebody and takes it back, ends the sessions of another, adds a maker and its terms. */
  async function administrator(today: Day, look: string): Promise<void> {
    const { page } = today;
    await today.go('People');
    await page.getByLabel('Name', { exact: true }).fill(`New ${look}`);
    await page.getByLabel('Email', { exact: true }).fill(`new-${look}@lensferry.example`);
    await page.getByLabel('Harbour Row', { exact: true }).check();
    await today.button('Invite somebody');
    await today.sees('Copy this link now');
    await today.seat.picture(`day-administrator-${look}-1-invited`);
    await page
      .getByRole('listitem')
      .filter({ hasText: `New ${look}` })
      .getByRole('button', { name: 'Withdraw' })
      .click();
    await page
      .getByRole('listitem')
      .filter({ hasText: `New ${look}` })
      .waitFor({ state: 'detached' });
    const row = page.getByRole('row').filter({ hasText: 'Piet Lorn' });
    await row.getByText('Account', { exact: true }).last().click();
    await row.getByRole('button', { name: 'End all sessions' }).click();
    await today.take('End all sessions', { Why: 'The telephone was left on a train.' });
    await today.heard('All sessions have ended');

    await today.go('Makers');
    await today.button('Add a maker');
    await today.choose('telephone or mail');
    await today.seat.picture(`day-administrator-${look}-2-maker`);
    await today.take('Add a maker', {
      Name: `Willow ${look}`,
      Code: `WILLOW-${look.toUpperCase()}`,
      Contact: 'desk@willow.example',
      'Currency, three letters': 'EUR',
      'Time zone': 'Europe/Berlin',
    });
    await today.heard('The maker is added');
    await today.button('Change contact and terms');
    await today.take('Change contact and terms', { 'Return window, days': '45' });
    await today.heard('The maker is changed');
    await today.sees('45 days');
    await page.getByRole('heading', { level: 1, name: `Willow ${look}` }).waitFor();
    await today.seat.picture(`day-administrator-${look}-3-changed`);
  }

  /** Reads who did what and what makers owe, and finds no button that changes anything. */
  async function auditor(today: Day, look: string): Promise<void> {
    const scene = await sceneAt(house, 'accepted', { codeName: `Hazel ${look}` });
    const { number } = await orderOf(scene);
    await today.go('Audit');
    await today.sees('Una Marsh');
    await today.seat.picture(`day-auditor-${look}-1-audit`);
    await today.link('Order');
    await today.page.getByRole('heading', { level: 1, name: /^Order / }).waitFor();
    await today.go('Ledger');
    await today.sees(number);
    await today.seat.picture(`day-auditor-${look}-2-ledger`);
    await today.go('Cases');
    await today.link(`Hazel ${look} · right eye`);
    await today.sees('Nothing for you to do');
    expect(await today.page.locator('main .next a.button--filled').count()).toBe(0);
    await today.seat.picture(`day-auditor-${look}-3-case`);
  }

  const packText = async (scene: Scene): Promise<string> =>
    ((await orderOf(scene)).announcedUnit as { labelText: string }).labelText;
});
