import type { Page } from 'playwright-core';

/** When a page showed its rows and answered a press, in ms since somebody left for it. */
export interface Waited {
  readonly shown: number;
  readonly answered: number;
}

/** Counts rows as they come, on every page that is opened from now on: when there were how many. */
export async function markRows(page: Page, selector: string): Promise<void> {
  await page.addInitScript((rows) => {
    const seen = window as unknown as { rows: [count: number, at: number][] };
    seen.rows = [];
    const look = () => {
      const count = document.querySelectorAll(rows).length;
      if (count > (seen.rows.at(-1)?.[0] ?? 0)) seen.rows.push([count, performance.now()]);
    };
    new MutationObserver(look).observe(document, { childList: true, subtree: true });
  }, selector);
}

/** Waits for so many rows, then presses a button and waits for what it changes to be painted. */
export async function rowsAt(page: Page, rows: number): Promise<Waited> {
  return page.evaluate(
    (wanted) =>
      new Promise<Waited>((done) => {
        const seen = window as unknown as { rows: [number, number][] };
        const look = () => {
          const shown = seen.rows.find(([count]) => count >= wanted);
          if (shown === undefined) return void requestAnimationFrame(look);
          const chip = document.querySelector<HTMLElement>('main .steps .chip[aria-pressed="false"]');
          const pressed = () => chip?.getAttribute('aria-pressed') === 'true';
          chip?.click();
          const painted = () =>
            pressed()
              ? setTimeout(() => {
                  const answered = performance.now();
                  chip?.parentElement?.querySelector<HTMLElement>('[aria-pressed="false"]')?.click();
                  setTimeout(() => done({ shown: shown[1], answered }));
                })
              : requestAnimationFrame(painted);
          requestAnimationFrame(painted);
        };
        look();
      }),
    rows,
  );
}

/** How many times slower the page's processor is made. */
export async function throttle(page: Page): Promise<(rate: number) => Promise<unknown>> {
  const cdp = await page.context().newCDPSession(page);
  return (rate) => cdp.send('Emulation.setCPUThrottlingRate', { rate });
}

export const sign = (kept: boolean): string => (kept ? '✓' : '✗');
