import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, it } from 'vitest';
import { buildServer } from '../../../apps/api/dist/server.js';
import { openHouse, password, type House } from '../../support/house.js';
import { looks } from '../../support/days.js';
import { manyOrders } from '../../support/many-orders.js';
import { middle } from '../load/many-asks.js';
import { BareBrowser } from './bare-browser.js';
import { sign } from './waiting.js';

const turns = Number(process.env['TURNS'] ?? 9);
const slowedTimes = 4;
const wantedMs = 1500;
const list = `/orders?perPage=100&sort=recent&order=ASC&page=1&filter=${encodeURIComponent('{"state":"sent"}')}`;

/** In ms since the address was gone to. */
interface Opened {
  /** A screenful of rows is in the page. */
  readonly rows: number;
  /** A press on a button, made by the mouse the moment they are there, is on screen. */
  readonly answered: number;
  /** All rows are in the page. */
  readonly all: number;
}

/**
 * Notes in the page when rows come, says so to us, and takes from the browser itself when what a press changed was
 * shown (Event Timing, W3C: `startTime` and `duration` of an event go up to the next paint after it).
 */
const noting = `
  window.noted = { rows: 0, all: 0, answered: 0 };
  new MutationObserver(() => {
    const count = document.querySelectorAll('.horizon__row, main tbody tr').length;
    if (count > 0 && noted.rows === 0) { noted.rows = performance.now(); window.rowsThere(''); }
    if (count >= 100 && noted.all === 0) noted.all = performance.now();
  }).observe(document, { childList: true, subtree: true });
  new PerformanceObserver((seen) => {
    for (const { name, startTime, duration } of seen.getEntries())
      if (name === 'click') noted.answered = startTime + duration;
  }).observe({ type: 'event', durationThreshold: 16 });
`;

/** A page with next to nothing in it: what the browser takes to open any page of a script that asks the API once. */
function nextToNothing(): string {
  const folder = mkdtempSync(join(tmpdir(), 'lensferry-nothing-'));
  mkdirSync(join(folder, 'assets'));
  writeFileSync(
    join(folder, 'index.html'),
    '<!doctype html><html lang="en"><meta charset="utf-8"><title>Nothing</title><body>' +
      '<script type="module" src="/assets/ask.js" nonce="__CSP_NONCE__"></script></body></html>',
  );
  writeFileSync(
    join(folder, 'assets', 'ask.js'),
    `await fetch('/api/session');
     document.body.append(document.createElement('hr'));
     requestAnimationFrame(() => setTimeout(() => (window.shown = performance.now())));`,
  );
  return folder;
}

/**
 * In the tab that shows it already, as by a reload, whose process has its scripts compiled and its memory touched; or in
 * a new tab, as when somebody comes back, whose process has nothing yet.
 */
const ways = ['again in its tab', 'in a new tab'] as const;
type Way = (typeof ways)[number];

/** Opens the whole admin at the list of orders, in a browser that was here before, on a slow processor. */
describe('the admin opened anew', { timeout: 1_800_000 }, () => {
  let house: House;
  let browser: BareBrowser;
  let base: string;
  beforeAll(async () => {
    house = await openHouse({ environment: { ADMIN_DIR: process.env['ADMIN_DIST'] ?? 'apps/admin/dist' } });
    await (await manyOrders(house, 150)).close();
    await house.app.listen(0, '127.0.0.1');
    base = await house.app.getUrl();
    browser = await BareBrowser.open(looks.desk);
    await signIn();
  });
  afterAll(async () => {
    await browser?.close();
    await house?.close();
  });

  async function signIn(): Promise<void> {
    await browser.goto(base);
    await browser.until(`!!document.querySelector('input[type=email]')`);
    const write = (selector: string, value: string) => `{
      const input = document.querySelector('${selector}');
      Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value').set.call(input, '${value}');
      input.dispatchEvent(new Event('input', { bubbles: true }));
    }`;
    await browser.evaluate(
      `${write('input[type=email]', 'ilse@lensferry.example')}
       ${write('input[type=password]', password)}
       document.querySelector('form').requestSubmit()`,
    );
    await browser.until(`!!document.querySelector('.find')`);
  }

  /** Where the button is that shows the rows in the other way: with the view that is chosen now. */
  const otherView = () =>
    browser.evaluate<{ x: number; y: number }>(`(() => {
      const { x, y, width, height } =
        document.querySelector('main .steps .chip[aria-pressed="false"]').getBoundingClientRect();
      return { x: x + width / 2, y: y + height / 2 };
    })()`);

  async function notingTab(): Promise<void> {
    await browser.newTab();
    await browser.bind('rowsThere');
    await browser.before(noting);
  }

  async function open(way: Way, { x, y }: { x: number; y: number }): Promise<Opened> {
    if (way === 'in a new tab') await notingTab();
    await browser.slow(slowedTimes);
    const rowsThere = browser.called('rowsThere');
    await browser.goto(`${base}${list}`);
    await rowsThere;
    await browser.press(x, y);
    await browser.until('noted.all > 0 && noted.answered > 0');
    await browser.slow(1);
    const noted = await browser.evaluate<Opened>('noted');
    // The view is that of before for the next turn.
    await browser.evaluate(`document.querySelector('main .steps .chip[aria-pressed="false"]').click()`);
    return noted;
  }

  it('beside a page with next to nothing in it', async () => {
    const folder = nextToNothing();
    const app = await buildServer({ ...house.settings, ADMIN_DIR: folder }, house.database);
    try {
      await app.listen(0, '127.0.0.1');
      const times: number[] = [];
      for (let turn = -2; turn < turns; turn++) {
        await browser.newTab();
        await browser.slow(slowedTimes);
        await browser.goto(await app.getUrl());
        await browser.until('window.shown > 0');
        if (turn >= 0) times.push(await browser.evaluate<number>('shown'));
        await browser.slow(1);
      }
      console.log(
        `a page with next to nothing in it that asks the API once, processor slowed ${slowedTimes} times: on screen after ${middle(times).toFixed(0)} ms`,
      );
    } finally {
      await app.close();
      rmSync(folder, { recursive: true });
    }
  });

  for (const [at, view, way] of ['horizon', 'table'].flatMap((view, at) =>
    ways.map((way) => [at, view, way] as const),
  ))
    it(`${way} at the list of 100 orders as a ${view}`, async () => {
      await browser.goto(`${base}${list}`);
      await browser.until(`document.querySelectorAll('main .steps .chip').length === 2`);
      await browser.evaluate(`document.querySelectorAll('main .steps .chip')[${at}].click()`);
      await browser.until(
        `document.querySelectorAll('main .steps .chip')[${at}].getAttribute('aria-pressed') === 'true'`,
      );
      const button = await otherView();
      const opened: Opened[] = [];
      await notingTab();
      // The first two turns fill what the browser keeps of compiled scripts.
      for (let turn = -2; turn < turns; turn++) {
        const one = await open(way, button);
        if (turn >= 0) opened.push(one);
      }
      const of = (what: keyof Opened) => opened.map((one) => one[what]);
      const told = (what: keyof Opened) => middle(of(what)).toFixed(0);
      console.log(
        `${sign(middle(of('answered')) <= wantedMs)} 100 orders (${view}), processor slowed ${slowedTimes} times, the admin opened ${way}: a screenful of rows after ${told('rows')} ms, a press on screen after ${told('answered')} ms (wanted: ${wantedMs}; ${Math.min(...of('answered')).toFixed(0)} to ${Math.max(...of('answered')).toFixed(0)} in ${turns} turns), all rows after ${told('all')} ms`,
      );
    });
});
