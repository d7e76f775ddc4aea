import { canInstallWithApt, findProgram, installWithApt } from './find-program.mjs';
import { withProgress } from './progress.mjs';
import { StopSentence } from './stop-sentence.mjs';

const NAMES = [
  'chromium',
  'chromium-browser',
  'google-chrome',
  'google-chrome-stable',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
];

/** Chromium on this machine, or null. CHROMIUM_PATH comes first, and must be right when it is set. */
export function findChromium() {
  const chosen = process.env.CHROMIUM_PATH;
  if (!chosen) return findProgram(NAMES);
  const found = findProgram([chosen]);
  if (!found)
    throw new StopSentence(
      `CHROMIUM_PATH names ${chosen}, which is no program: set it to Chromium's executable.`,
    );
  return found;
}

/** Chromium for the browser tests, installed where this user may; refuses with what to do otherwise. */
export async function requireChromium(log) {
  const found = findChromium();
  if (found) return found;
  if (canInstallWithApt()) {
    const { output } = await withProgress(log, 'Installing Chromium with apt-get', () =>
      installWithApt('chromium'),
    );
    const installed = findChromium();
    if (installed) return installed;
    process.stderr.write(`${output.trim().split('\n').slice(-15).join('\n')}\n`);
  }
  throw new StopSentence(
    'The browser tests need Chromium and there is none: install it (Debian and Ubuntu: sudo apt-get install chromium) or set CHROMIUM_PATH to it.',
  );
}
