import type { Locator, Page } from 'playwright-core';
import type { Seat } from './browser.js';

/** A size of screen and its colours, as people have them. */
export interface Look {
  readonly width: number;
  readonly height: number;
  readonly colorScheme: 'light' | 'dark';
}

export const looks = {
  desk: { width: 1440, height: 900, colorScheme: 'light' },
  phone: { width: 390, height: 844, colorScheme: 'dark' },
} as const satisfies Record<string, Look>;

/** One person's day with the mouse or the thumb: what is pressed has to be seen first. */
export class Day {
  constructor(
    readonly seat: Seat,
    private readonly look: Look,
  ) {}

  get page(): Page {
    return this.seat.page;
  }

  /** Goes to a place by the menu, which a phone keeps folded. */
  async go(place: string): Promise<void> {
    if (this.look.width < 600) await this.page.getByRole('button', { name: 'Menu', exact: true }).click();
    await this.page
      .getByRole('navigation', { name: 'Places' })
      .getByRole('link', { name: new RegExp(`^${place}`) })
      .click();
    await this.page.getByRole('heading', { level: 1, name: new RegExp(`^${place}`) }).waitFor();
  }

  /** Presses what moves a row of today. */
  async act(name: string | RegExp, label: string): Promise<void> {
    const row = this.page.locator('main li.row').filter({ hasText: name });
    await row.getByRole('link', { name: label, exact: true }).first().click();
  }

  link(name: string | RegExp): Promise<void> {
    return this.page.locator('main').getByRole('link', { name, exact: true }).first().click();
  }

  button(name: string | RegExp): Promise<void> {
    return this.page.locator('main').getByRole('button', { name, exact: true }).first().click();
  }

  /** Fills a field by its label. */
  async fill(label: string | RegExp, value: string, within: Page | Locator = this.page): Promise<void> {
    await within.getByLabel(label).and(within.locator('input, textarea')).first().fill(value);
  }

  choose(name: string): Promise<void> {
    return this.page.getByRole('radio', { name, exact: true }).first().click();
  }

  /** Fills the dialog that is open and takes its step. */
  async take(button: string | RegExp, fields: Record<string, string> = {}): Promise<void> {
    const dialog = this.page.getByRole('dialog');
    await dialog.waitFor();
    for (const [label, value] of Object.entries(fields)) await this.fill(label, value, dialog);
    await dialog.getByRole('button', { name: button, exact: true }).click();
    await dialog.waitFor({ state: 'detached' });
  }

  /** Waits for what is said after something was done. */
  async heard(text: string): Promise<void> {
    await this.page.getByRole('status').filter({ hasText: text }).first().waitFor();
  }

  /** Waits until something stands on the page. */
  async sees(text: string | RegExp): Promise<void> {
    await this.page.locator('main').getByText(text, { exact: false }).first().waitFor();
  }
}
