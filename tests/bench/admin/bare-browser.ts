import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Readable, Writable } from 'node:stream';
import { flags } from '../../support/browser.js';

interface Heard {
  readonly id?: number;
  readonly result?: unknown;
  readonly error?: { readonly message: string };
  readonly method?: string;
  readonly params?: { readonly name?: string };
}

/**
 * Chromium over its own pipe, with a profile on disk and one tab that hardly anything listens to. A testing library has
 * the browser tell of each request, for which it parses scripts again to say from which line each came: a sixth of what
 * a page takes. Without a profile on disk it would also compile every script anew, which no browser of a person does.
 */
export class BareBrowser {
  private asked = 0;
  private readonly waiting = new Map<number, (heard: Heard) => void>();
  private readonly listening = new Map<string, () => void>();
  private rest = '';
  private tab = '';

  private constructor(
    private readonly profile: string,
    private readonly size: { width: number; height: number },
    private readonly child: ReturnType<typeof spawn>,
  ) {
    (child.stdio[4] as Readable).on('data', (data: Buffer) => this.hear(String(data)));
  }

  static async open(size: { width: number; height: number }): Promise<BareBrowser> {
    const profile = mkdtempSync(join(tmpdir(), 'lensferry-profile-'));
    const child = spawn(
      process.env['CHROMIUM_PATH'] ?? '/usr/bin/chromium',
      ['--headless', '--remote-debugging-pipe', `--user-data-dir=${profile}`, ...flags, 'about:blank'],
      { stdio: ['ignore', 'ignore', 'ignore', 'pipe', 'pipe'] },
    );
    const browser = new BareBrowser(profile, size, child);
    await browser.newTab();
    return browser;
  }

  /** Leaves every tab for a new one, in which scripts are not yet compiled, as when somebody comes back. */
  async newTab(): Promise<void> {
    this.tab = '';
    const { targetInfos } = await this.ask<{ targetInfos: { targetId: string; type: string }[] }>(
      'Target.getTargets',
    );
    const { targetId } = await this.ask<{ targetId: string }>('Target.createTarget', { url: 'about:blank' });
    const attached = { targetId, flatten: true };
    const { sessionId } = await this.ask<{ sessionId: string }>('Target.attachToTarget', attached);
    for (const one of targetInfos.filter(({ type }) => type === 'page'))
      await this.ask('Target.closeTarget', { targetId: one.targetId });
    this.tab = sessionId;
    await this.ask('Emulation.setDeviceMetricsOverride', {
      ...this.size,
      deviceScaleFactor: 1,
      mobile: false,
    });
    await this.ask('Page.enable');
  }

  /** Gives the tab's pages a function that tells us when it is called. */
  async bind(name: string): Promise<void> {
    await this.ask('Runtime.enable');
    await this.ask('Runtime.addBinding', { name });
  }

  /** Settles when the page next calls it. */
  called(name: string): Promise<void> {
    return new Promise((done) => this.listening.set(name, done));
  }

  /** Presses there as a person's mouse does. */
  async press(x: number, y: number): Promise<void> {
    const at = { x, y, button: 'left', clickCount: 1 };
    await this.ask('Input.dispatchMouseEvent', { type: 'mousePressed', ...at });
    await this.ask('Input.dispatchMouseEvent', { type: 'mouseReleased', ...at });
  }

  goto(url: string): Promise<unknown> {
    return this.ask('Page.navigate', { url });
  }

  /** How many times slower the tab's processor is made. */
  slow(rate: number): Promise<unknown> {
    return this.ask('Emulation.setCPUThrottlingRate', { rate });
  }

  /** Runs before anything else on every page that the tab opens from now on. */
  before(source: string): Promise<unknown> {
    return this.ask('Page.addScriptToEvaluateOnNewDocument', { source });
  }

  /** What an expression, or what it promises, comes to in the page. */
  async evaluate<T>(expression: string): Promise<T> {
    const { result, exceptionDetails } = await this.ask<{
      result: { value: T };
      exceptionDetails?: { exception?: { description?: string } };
    }>('Runtime.evaluate', { expression, awaitPromise: true, returnByValue: true });
    if (exceptionDetails) throw new Error(exceptionDetails.exception?.description ?? 'The page threw.');
    return result.value;
  }

  /** Waits until an expression holds in the page that is there then. */
  async until(expression: string): Promise<void> {
    while (!(await this.evaluate(expression).catch(() => false)))
      await new Promise((soon) => setTimeout(soon, 50));
  }

  async close(): Promise<void> {
    const gone = new Promise((done) => this.child.once('exit', done));
    this.tab = '';
    await this.ask('Browser.close');
    await gone;
    rmSync(this.profile, { recursive: true, force: true, maxRetries: 5 });
  }

  private ask<T>(method: string, params: object = {}): Promise<T> {
    const id = ++this.asked;
    const message = { id, method, params, ...(this.tab && { sessionId: this.tab }) };
    (this.child.stdio[3] as Writable).write(`${JSON.stringify(message)}\0`);
    return new Promise((done, fail) =>
      this.waiting.set(id, ({ result, error }) =>
        error ? fail(new Error(error.message)) : done(result as T),
      ),
    );
  }

  private hear(data: string): void {
    const messages = (this.rest + data).split('\0');
    this.rest = messages.pop() ?? '';
    for (const text of messages) {
      const heard = JSON.parse(text) as Heard;
      if (heard.id !== undefined) {
        this.waiting.get(heard.id)?.(heard);
        this.waiting.delete(heard.id);
      } else if (heard.method === 'Runtime.bindingCalled') this.listening.get(heard.params?.name ?? '')?.();
    }
  }
}
