import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults, RunOptions } from 'axe-core';
import type { Page } from 'playwright-core';

const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** What axe-core finds wrong with the page, or with a part of it, each as a line for a person to read. */
export async function axeFaults(page: Page, part?: string): Promise<string[]> {
  await page.evaluate(source);
  const { violations } = await page.evaluate(
    ([within, options]) =>
      (
        window as unknown as { axe: { run(at: string | Document, o: RunOptions): Promise<AxeResults> } }
      ).axe.run(within ?? document, options),
    [part, { resultTypes: ['violations'] }] satisfies [string | undefined, RunOptions],
  );
  return violations.map(
    ({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 160)).join(' | ')}`,
  );
}
