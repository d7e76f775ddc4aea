import type { CDPSession, Page } from 'playwright-core';

/** What a screen reader is told of the element that has the focus. */
export interface Focused {
  readonly role: string;
  readonly name: string;
}

type Role = 'link' | 'button' | 'textbox' | 'combobox' | 'radio' | 'checkbox' | 'date';

/** More Tabs than this and a person would have given up. */
const MOST_TABS = 90;

/** The page as somebody has it who uses no mouse: only keys go in, and the focus is all that is looked at. */
export class Keys {
  private constructor(
    readonly page: Page,
    private readonly cdp: CDPSession,
  ) {}

  static async of(page: Page): Promise<Keys> {
    return new Keys(page, await page.context().newCDPSession(page));
  }

  /** Where the focus is, by the browser's own accessibility tree. */
  async focused(): Promise<Focused> {
    const { result } = await this.cdp.send('Runtime.evaluate', { expression: 'document.activeElement' });
    const { nodes } = await this.cdp.send('Accessibility.getPartialAXTree', {
      objectId: result.objectId!,
      fetchRelatives: false,
    });
    const [node] = nodes;
    return { role: String(node?.role?.value ?? ''), name: String(node?.name?.value ?? '').trim() };
  }

  press(...keys: string[]): Promise<void> {
    return keys.reduce((before, key) => before.then(() => this.page.keyboard.press(key)), Promise.resolve());
  }

  type(text: string): Promise<void> {
    return this.page.keyboard.type(text);
  }

  /** Waits until it is on the page, then goes on with Tab until it has the focus; `Shift+Tab` goes back. */
  async to(role: Role, name: string | RegExp, key: 'Tab' | 'Shift+Tab' = 'Tab'): Promise<void> {
    const there =
      role === 'date' ? this.page.getByLabel(name) : this.page.getByRole(role, { name, exact: true });
    await there.first().waitFor();
    const passed: string[] = [];
    for (let tabs = 0; tabs < MOST_TABS; tabs++) {
      const at = await this.focused();
      if (at.role.toLowerCase() === role && isNamed(at, name)) return;
      passed.push(`${at.role} "${at.name}"`);
      await this.press(key);
    }
    throw new Error(`${key} never came to the ${role} "${String(name)}", only to: ${passed.join(', ')}`);
  }

  /** Goes to a link or button and presses it. */
  async follow(role: 'link' | 'button', name: string | RegExp): Promise<void> {
    await this.to(role, name);
    await this.press('Enter');
  }

  /** Goes to a field and writes over what stands in it. */
  async write(name: string | RegExp, text: string): Promise<void> {
    await this.to('textbox', name);
    await this.press('Control+a');
    await this.type(text);
  }

  /** Goes to a row of choices and chooses one as the keyboard does: Space, then the arrows. */
  async choose(name: string): Promise<void> {
    const group = this.page.getByRole('radio', { name, exact: true }).first();
    await group.waitFor();
    const names = await group.evaluate((one: HTMLInputElement) =>
      [...document.querySelectorAll<HTMLInputElement>(`input[name="${CSS.escape(one.name)}"]`)].map(
        (each) => each.labels?.[0]?.textContent?.trim() ?? '',
      ),
    );
    const passed: string[] = [];
    for (let tabs = 0; tabs < MOST_TABS; tabs++) {
      const at = await this.focused();
      if (at.role === 'radio' && names.includes(at.name)) {
        await this.press('Space');
        for (let moves = 0; moves < names.length; moves++) {
          if ((await this.focused()).name === name) return;
          await this.press('ArrowDown');
        }
      }
      passed.push(`${at.role} "${at.name}"`);
      await this.press('Tab');
    }
    throw new Error(`Tab never came to the choice "${name}", only to: ${passed.join(', ')}`);
  }

  /** Finds something by its name in the palette and goes there, as one who doesn't wait for the list. */
  async find(text: string): Promise<void> {
    await this.press('Control+k');
    await this.page.getByRole('dialog').waitFor();
    await this.type(text);
    await this.press('Enter');
  }
}

/** Capitals are the style sheet's doing, so they don't count. */
const isNamed = ({ name }: Focused, wanted: string | RegExp): boolean =>
  typeof wanted === 'string' ? name.toLowerCase() === wanted.toLowerCase() : wanted.test(name);
