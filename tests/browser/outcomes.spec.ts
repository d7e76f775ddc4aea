import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { SetClock } from '../../apps/api/dist/platform/clock.js';
import type { DueVisits, OffsetOffer, OutcomeReport } from '../../packages/contracts/src/index.js';
import { openBrowser, sitDown } from '../support/browser.js';
import { Day, looks, type Look } from '../support/days.js';
import { openHouse, type House, type Person } from '../support/house.js';
import {
  beyond,
  figureOf,
  linesOf,
  openTable,
  saved,
  sizeOfPng,
  withoutBasis,
} from '../support/outcomes-walk.js';
import { tellPasts, type Past } from '../support/pasts.js';
import { readPdf } from '../support/read-pdf.js';

/** Enough eyes that groups differ in size; some still wait for a visit. */
const pasts: readonly Past[] = [
  ['closed', 'EST', 'QUILLON', 460],
  ['followed-up', 'EST', 'FENNICK', 140],
  ['closed', 'NOR', 'QUILLON', 480],
  ['followed-up', 'NOR', 'OSTREL', 130],
  ['followed-up', 'EST', 'QUILLON', 125],
  ['credit-missing', 'EST', 'QUILLON', 300],
  ['visit-due', 'EST', 'QUILLON', 90],
  ['visit-due', 'EST', 'OSTREL', 110],
  ['to-plan', 'EST', 'QUILLON', 3],
];
const operated = pasts.filter(([ending]) => ending !== 'to-plan');
const ON_RESULTS = /^\d+ eyes?, follow-up median \d+ months, least \d+/;
const inkless = (text: string): string => text.replace(/\s+/g, ' ');

/** A surgeon reads what became of the eyes, takes figures and tables along, and enters a visit. */
describe('the outcomes', () => {
  const clock = new SetClock(new Date());
  let house: House;
  let browser: Browser;
  let base: string;
  let ilse: Person;
  beforeAll(async () => {
    house = await openHouse({ environment: { ADMIN_DIR: 'apps/admin/dist' }, clock });
    await tellPasts(house, clock, pasts, 77);
    await house.app.listen(0, '127.0.0.1');
    base = await house.app.getUrl();
    [browser, ilse] = await Promise.all([openBrowser(), house.signIn('ilse')]);
  });
  afterAll(async () => {
    await browser?.close();
    await house?.close();
  });

  for (const [at, look] of Object.entries<Look>(looks))
    it(`are read, compared, kept and mended by a surgeon at a ${at}`, async () => {
      const seat = await sitDown(browser, base, 'ilse', look);
      const day = new Day(seat, look);
      const keep = (step: string) => seat.picture(`outcomes-${at}-${step}`);
      try {
        await day.go('Outcomes');
        await narrow(day);
        await keep('1-results');
        await takeFiguresAlong(day);
        await takeEyesAlong(day);
        await compare(day);
        await keep('2-compared');
        await learn(day);
        await keep('3-learning');
        await scoreMakers(day);
        await keep('4-makers');
        await enterVisit(day, keep);
        await sheetOf(day);
        await keep('7-sheet');
        await offerOffset(day);
        await keep('8-offered');
      } catch (error) {
        await keep('failed');
        throw error;
      }
      await seat.page.context().close();
      expect(seat.troubles).toEqual([]);
    });

  const eyesBy = async (query: string): Promise<number> =>
    (await ilse.get<OutcomeReport>(`/api/outcomes?${query}`)).body.figures.eyes;
  const choose = (day: Day, filter: string, label: string | RegExp): Promise<unknown> =>
    day.page
      .getByLabel(filter, { exact: true })
      .locator('option')
      .filter({ hasText: label })
      .first()
      .evaluate((option: HTMLOptionElement) => option.value)
      .then((value) => day.page.getByLabel(filter, { exact: true }).selectOption(value));
  const rests = (day: Day, eyes: number): Promise<void> =>
    figureOf(day, 'accuracy')
      .locator('figcaption .muted')
      .filter({ hasText: new RegExp(`^${eyes} eye`) })
      .waitFor();

  /** Narrows by maker, cylinder and clinic; every figure says what it rests on, and the numbers are the API's. */
  async function narrow(day: Day): Promise<void> {
    const all = await eyesBy('');
    await rests(day, all);
    expect(await withoutBasis(day, ON_RESULTS)).toEqual([]);
    expect(await beyond(day)).toEqual([]);
    for (const [filter, label] of [
      ['Maker', /^Quillon/],
      ['Cylinder before', /from 4 D/],
      ['Clinic', /^Estuary/],
    ] as const) {
      await choose(day, filter, label);
      await day.page.waitForURL(/\?.*=/);
      const eyes = await eyesBy(new URL(day.page.url()).searchParams.toString());
      expect(eyes, filter).toBeGreaterThan(0);
      expect(eyes, filter).toBeLessThan(all);
      await rests(day, eyes);
      expect(await withoutBasis(day, ON_RESULTS), filter).toEqual([]);
      await choose(day, filter, /^(All|Any)/);
      await rests(day, all);
    }
  }

  /** Opens a figure's numbers, and saves the figure both ways: it says by itself what it shows and rests on. */
  async function takeFiguresAlong(day: Day): Promise<void> {
    const figure = figureOf(day, 'attempted-achieved');
    const rows = await openTable(figure);
    const eyes = await eyesBy('');
    expect(rows).toHaveLength(eyes + 1);
    expect(rows[0]!.slice(1).every((head) => head.endsWith(', D'))).toBe(true);
    const svg = await saved(day, () => figure.getByRole('button', { name: 'Save as SVG' }).click());
    expect(svg.name).toBe('lensferry-attempted-achieved.svg');
    const text = svg.bytes.toString('utf8');
    expect(text).not.toContain('var(');
    const [finding, faulty] = await day.page.evaluate((source) => {
      const read = new DOMParser().parseFromString(source, 'image/svg+xml');
      const words = [...read.querySelectorAll('text')].map((one) => one.textContent ?? '').join(' ');
      return [words, read.querySelector('parsererror') !== null] as const;
    }, text);
    expect(faulty).toBe(false);
    for (const part of ['h3', '.muted'])
      expect(inkless(finding)).toContain(inkless(await figure.locator(`figcaption ${part}`).innerText()));
    const png = await saved(day, () => figure.getByRole('button', { name: 'Save as PNG' }).click());
    const [width, height] = sizeOfPng(png.bytes);
    expect([width, png.name]).toEqual([1920, 'lensferry-attempted-achieved.png']);
    expect(height).toBeGreaterThan(1000);
    expect(png.bytes.length).toBeGreaterThan(20_000);
  }

  /** The eyes as a table hold nobody's name, code or id; the dictionary beside it names each column. */
  async function takeEyesAlong(day: Day): Promise<void> {
    const table = await saved(day, () => day.link('Save the eyes as CSV'));
    const [heads = [], ...rows] = linesOf(table.bytes);
    expect(rows).toHaveLength(operated.length);
    const words = await saved(day, () => day.link('What the columns mean'));
    expect(
      linesOf(words.bytes)
        .slice(1)
        .map(([name]) => name),
    ).toEqual(heads);
    const { body } = await ilse.get<{ items: { id: string; code: string; codeName: string }[] }>(
      '/api/cases',
    );
    expect(body.items).toHaveLength(pasts.length);
    const text = table.bytes.toString('utf8');
    for (const { id, code, codeName } of body.items)
      for (const own of [id, code, codeName]) expect(text).not.toContain(own);
    expect(text).not.toContain('Demo patient');
    expect(rows.every((row) => /^E-[0-9a-f]{10}$/.test(row[0] ?? ''))).toBe(true);
  }

  async function compare(day: Day): Promise<void> {
    await choose(day, 'Choose two groups', /^Clinic: /);
    const table = day.page.getByRole('table').filter({ hasText: 'Within 0.50 D of the aim' });
    await table.waitFor();
    const rows = await table.locator('tbody tr').allInnerTexts();
    expect(rows.find((row) => row.startsWith('Within 0.50 D'))).toContain('Fisher’s exact test');
    expect(rows.find((row) => row.startsWith('Distance from the aim'))).toContain('Mann-Whitney');
    expect(rows.every((row) => /(0\.\d{3}|1\.000|< 0\.001)$/.test(row.trim()))).toBe(true);
    await table.scrollIntoViewIfNeeded();
    expect(await beyond(day)).toEqual([]);
  }

  /** Each eye predicted from all others: as many rows as lenses that the model learned from. */
  async function learn(day: Day): Promise<void> {
    await day.link('Learning');
    const figure = figureOf(day, 'vault-ql-tarn');
    await figure.waitFor();
    const basis = await figure.locator('figcaption .muted').innerText();
    const rows = await openTable(figure);
    expect(rows).toHaveLength(Number(/^\d+/.exec(basis)?.[0]) + 1);
    expect(await figure.locator('svg').getAttribute('aria-label')).toContain('after learning');
    await figure.scrollIntoViewIfNeeded();
    expect(await beyond(day)).toEqual([]);
  }

  async function scoreMakers(day: Day): Promise<void> {
    await day.link('Makers');
    const funnel = figureOf(day, 'makers-promisekept');
    await funnel.waitFor();
    const rows = await openTable(funnel);
    expect(rows.slice(1).map(([name]) => name)).toEqual([
      'Fennick Bench',
      'Merrow',
      'Ostrel Glass',
      'Quillon',
    ]);
    // Nobody is shamed by few orders.
    for (const row of rows.slice(1)) expect(row.at(-1)).toMatch(/too few to say|within chance|outside/);
    expect(rows.find(([name]) => name === 'Fennick Bench')?.at(-1)).toBe('too few to say');
    const card = day.page.getByRole('article', { name: 'Quillon' });
    const told = inkless(await card.locator('dl').innerText());
    for (const fact of [
      /First promise kept \d+ of \d+: \d+ % \(\d+–\d+ %\)/,
      /Label says another lens than was ordered 0 of \d+: 0 % \(0–\d+ %\)/,
      /vault too high: 1 of \d+ lenses, \d+ % \(\d+–\d+ %\)/,
      /CHF .* for 1 lens, open for \d+ days/,
    ])
      expect(told).toMatch(fact);
    const curve = card.locator('figure');
    expect(await curve.locator('h3').innerText()).toMatch(/^Half had come after \d+ working days/);
    expect((await openTable(curve)).length).toBeGreaterThan(2);
    await card.scrollIntoViewIfNeeded();
    expect(await beyond(day)).toEqual([]);
  }

  /** A vault that no eye can have is refused where it was typed, and what to mend is said; then the visit is made. */
  async function enterVisit(day: Day, keep: (step: string) => Promise<void>): Promise<void> {
    const { page } = day;
    await day.link('Visits due');
    const { body } = await ilse.get<DueVisits>('/api/outcomes/visits');
    const due = body.items.find(({ state }) => state !== 'ahead')!;
    const row = page.locator('li.visit-row').filter({ hasText: due.codeName });
    await row.waitFor();
    await keep('5-visits');
    await row.getByRole('link', { name: 'Enter the visit' }).click();
    await page
      .getByRole('navigation')
      .getByRole('link', { name: /^vault/i })
      .click();
    await day.fill(/^Vault/, '48000');
    await day.choose('bright light');
    await day.fill('Device', 'optical section');
    await day.button('Keep the measurement');
    const field = page.getByLabel(/^Vault/).and(page.locator('input'));
    await day.sees('Not more than 3000.');
    expect(await field.getAttribute('aria-invalid')).toBe('true');
    expect(await field.evaluate((one) => one === document.activeElement)).toBe(true);
    await keep('6-impossible');
    await field.fill('480');
    await day.button('Keep the measurement');
    await day.heard('The measurement is kept');
    const after = (await ilse.get<DueVisits>('/api/outcomes/visits')).body.items;
    expect(after.find(({ caseId }) => caseId === due.caseId)?.state).toBe('ahead');
  }

  /** Beside the plan of the next eye stands what was learned, with its n; with few eyes nobody can plan with it yet. */
  async function offerOffset(day: Day): Promise<void> {
    const { page } = day;
    const { body } = await ilse.get<{ items: { id: string; stage: string }[] }>('/api/cases');
    const next = body.items.find(({ stage }) => stage === 'planning')!;
    const { offer } = (await ilse.get<OffsetOffer>(`/api/cases/${next.id}/offset`)).body;
    await page.goto(`${base}/cases/${next.id}/plan`);
    const card = page
      .locator('section')
      .filter({ has: page.getByText('What eyes like this one taught') })
      .last();
    await card.scrollIntoViewIfNeeded();
    const told = inkless(await card.innerText());
    expect(told).toMatch(
      new RegExp(
        `${offer!.n === 1 ? 'One' : offer!.n} eyes? of these (are|is) behind it, ${offer!.eyes} in all`,
      ),
    );
    expect(told).toMatch(/Mean power [−+]?\d\.\d\d D \([−+]?\d\.\d\d … [−+]?\d\.\d\d D\)/);
    expect(offer!.usable).toBe(false);
    expect(told).toContain('Planned with from 5 eyes of these on.');
    expect(await card.getByRole('checkbox').count()).toBe(0);
    expect(await beyond(day)).toEqual([]);
  }

  /** The patient's sheet fits one page on paper, and as a PDF says the same. */
  async function sheetOf(day: Day): Promise<void> {
    const { page } = day;
    const caseId = /cases\/([0-9a-f-]{36})/.exec(page.url())?.[1];
    await page.goto(`${base}/outcomes/sheet/${caseId}`);
    await day.sees('What nobody can promise');
    const onPaper = await readPdf(await page.pdf({ format: 'A4' }));
    expect(onPaper.pages).toBe(1);
    const pdf = await saved(day, () => day.link('As a PDF'));
    const read = await readPdf(pdf.bytes);
    expect(read.pages).toBe(1);
    const [, low, high] = /end between (\S\d+\.\d\d) … (\S\d+\.\d\d) D/.exec(onPaper.text) ?? [];
    for (const limit of [low, high]) expect(read.text).toContain(`${limit} D`);
    for (const words of ['What nobody can promise', 'Not better.', 'There is no hurry.']) {
      expect(onPaper.text).toContain(words);
      expect(read.text).toContain(words);
    }
    expect(onPaper.text).not.toContain('Save as');
  }
});
