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
    const page = await browser.newPage();
    await page.setContent('<!doctype html><title>bench</title>');
    await page.addScriptTag({ content: script });
    const times = await page.evaluate(() => globalThis.timePlans(60));
    return { ...times, version: browser.version() };
  } finally {
    await browser.close();
  }
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
