import { mkdirSync } from 'node:fs';
import { chromium, type Browser, type Locator, type Page } from 'playwright-core';
import { password } from './house.js';

/** Where screenshots are kept for a person to look at. */
export const pictures = 'tests/output';

export const flags = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
];

/** The real Chromium that `npm test` found. */
export function openBrowser(): Promise<Browser> {
  mkdirSync(pictures, { recursive: true });
  return chromium.launch({
    executablePath: process.env['CHROMIUM_PATH'] ?? '/usr/bin/chromium',
    args: flags,
  });
}

export interface Seat {
  readonly page: Page;
  /** What went wrong in the page so far: console errors, uncaught errors, requests to another host. */
  readonly troubles: string[];
  /** What was read from the API so far, by address. */
  readonly asked: string[];
  picture(name: string): Promise<void>;
}

interface SeatOptions {
  readonly width?: number;
  readonly height?: number;
  readonly colorScheme?: 'light' | 'dark';
  /** Signs in by keyboard alone. */
  readonly typed?: boolean;
}

/** A person of the demo at a browser of their own, signed in. */
export async function sitDown(
  browser: Browser,
  base: string,
  name: string,
  options: SeatOptions = {},
): Promise<Seat> {
  const { width = 1440, height = 900, colorScheme = 'light' } = options;
  const context = await browser.newContext({ viewport: { width, height }, colorScheme, locale: 'en-GB' });
  const page = await context.newPage();
  page.setDefaultTimeout(12_000);
  const troubles: string[] = [];
  page.on('console', (message) => message.type() === 'error' && troubles.push(message.text()));
  page.on('pageerror', (error) => troubles.push(error.message));
  const asked: string[] = [];
  page.on('request', (request) => {
    const { protocol, host, pathname, search } = new URL(request.url());
    if (request.method() === 'GET' && pathname.startsWith('/api/')) asked.push(pathname + search);
    if (protocol.startsWith('http') && host !== new URL(base).host) troubles.push(`request to ${host}`);
  });
  await page.goto(base);
  await page.getByLabel('Email').waitFor();
  if (options.typed) {
    await page.keyboard.type(`${name}@lensferry.example`);
    await page.keyboard.press('Tab');
    await page.keyboard.type(password);
    await page.keyboard.press('Enter');
  } else {
    await page.getByLabel('Email').fill(`${name}@lensferry.example`);
    await page.getByLabel('Password', { exact: true }).fill(password);
    await page.getByRole('button', { name: 'Sign in' }).click();
  }
  await page.getByRole('heading', { name: /^Today/ }).waitFor();
  // Asking who is signed in before anybody is answers 401, which Chromium writes to its console.
  troubles.length = 0;
  return {
    page,
    troubles,
    asked,
    picture: async (picture) => void (await page.screenshot({ path: `${pictures}/${picture}.png` })),
  };
}

/** The field of a form by its name in the contract, such as `values.sphereD`. */
export const field = (page: Page, name: string): Locator => page.locator(`[name="${name}"]`);

/** Chooses one of a row of choices. */
export async function choose(page: Page, name: string, value: string): Promise<void> {
  await page.locator(`[data-field="${name}"][value="${value}"]`).check({ force: true });
}

/** Fills the fields of a form by their names. */
export async function fill(page: Page, values: Record<string, string | number>): Promise<void> {
  for (const [name, value] of Object.entries(values)) await field(page, name).fill(String(value));
}

/** Sums what moves on every page that is opened from now on, into `shifted`. */
export async function sumShifts(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const seen = window as unknown as { shifted: number };
    seen.shifted = 0;
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries() as (PerformanceEntry & {
        value: number;
        hadRecentInput: boolean;
      })[])
        if (!entry.hadRecentInput) seen.shifted += entry.value;
    }).observe({ type: 'layout-shift', buffered: true });
  });
}
