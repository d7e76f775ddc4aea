import { readFile } from 'node:fs/promises';
import type { Download, Locator } from 'playwright-core';
import type { Day } from './days.js';

/** What Chromium saved when something was pressed. */
export async function saved(
  day: Day,
  press: () => Promise<unknown>,
): Promise<{ name: string; bytes: Buffer }> {
  const [download] = (await Promise.all([day.page.waitForEvent('download'), press()])) as [Download, unknown];
  return { name: download.suggestedFilename(), bytes: await readFile(await download.path()) };
}

/** A figure of the outcomes by its id. */
export const figureOf = ({ page }: Day, id: string): Locator => page.locator(`#figure-${id}`);

/** Names of figures that do not say what they rest on. */
export async function withoutBasis({ page }: Day, basis: RegExp): Promise<string[]> {
  const cards = await page.locator('figure.figure').evaluateAll((all) =>
    all.map((one) => ({
      id: one.id,
      basis: one.querySelector('figcaption .muted')?.textContent ?? '',
      finding: one.querySelector('figcaption h3')?.textContent ?? '',
    })),
  );
  if (cards.length === 0) return ['there is no figure'];
  return cards.filter((one) => !basis.test(one.basis) || one.finding === '').map(({ id }) => id);
}

/** Opens the table beneath a figure and reads it: its heads, and its cells row by row. */
export async function openTable(figure: Locator): Promise<string[][]> {
  const details = figure.locator('details').first();
  await details.locator('summary').click();
  await details.locator('table').waitFor();
  return details
    .locator('tr')
    .evaluateAll((rows) =>
      rows.map((row) => [...row.querySelectorAll('th, td')].map((cell) => cell.textContent?.trim() ?? '')),
    );
}

/** What makes the page wider than the screen, so that a person would have to scroll sideways. */
export const beyond = ({ page }: Day): Promise<string[]> =>
  page.evaluate(() => {
    const wide = (element: Element): boolean => element.getBoundingClientRect().right > window.innerWidth + 1;
    if (document.documentElement.scrollWidth <= window.innerWidth) return [];
    return [...document.querySelectorAll('main *')]
      .filter((element) => wide(element) && ![...element.children].some(wide))
      .map((element) => `${element.tagName} ${element.className} ${element.textContent?.slice(0, 40)}`)
      .slice(0, 5);
  });

/** A table as it left the house, line by line. */
export const linesOf = (bytes: Buffer): string[][] =>
  bytes
    .toString('utf8')
    .replace(/^\uFEFF/, '')
    .trim()
    .split('\r\n')
    .map((line) => line.split(','));

/** Width and height of a PNG, in pixels. @throws when it is none. */
export function sizeOfPng(bytes: Buffer): [number, number] {
  if (bytes.subarray(1, 4).toString('latin1') !== 'PNG') throw new Error('This is no PNG.');
  return [bytes.readUInt32BE(16), bytes.readUInt32BE(20)];
}
