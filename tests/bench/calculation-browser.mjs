/** Bundles the page's part as the admin is bundled and times it in Chromium. */
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';
import { build } from 'vite';
import { requireChromium } from '../../apps/launcher/src/chromium.mjs';

const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
];

export async function timeInBrowser() {
  const executablePath = await requireChromium((line) => process.stderr.write(`${line}\n`));
  const script = await bundle();
  const browser = await chromium.launch({ executablePath, args: FLAGS });
  try {
    const pages = [];
    for (let i = 0; i < 5; i += 1) pages.push(await timeInPage(browser, script));
    const middle = (key) => pages.map((page) => page[key]).sort((a, b) => a - b)[2];
    return {
      firstMs: middle('firstMs'),
      medianMs: middle('medianMs'),
      worstMs: Math.max(...pages.map((page) => page.worstMs)),
      version: browser.version(),
    };
  } finally {
    await browser.close();
  }
}

/** A fresh page of its own process, so that nothing is compiled yet. */
async function timeInPage(browser, script) {
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.setContent('<!doctype html><title>bench</title>');
  await page.addScriptTag({ content: script });
  const times = await page.evaluate(() => globalThis.timePlans(60));
  await context.close();
  return times;
}

async function bundle() {
  const entry = fileURLToPath(new URL('./calculation-in-page.mjs', import.meta.url));
  const built = await build({
    configFile: false,
    logLevel: 'error',
    build: { write: false, lib: { entry, formats: ['iife'], name: 'bench' } },
  });
  const [{ output }] = [built].flat();
  return output[0].code;
}
