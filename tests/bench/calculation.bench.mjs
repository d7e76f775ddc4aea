/** The calculation package against general matrix libraries, and one full plan in a real browser. */
import { prepareEye } from '@lensferry/calculation';
import { timeInBrowser } from './calculation-browser.mjs';
import { planWith } from './calculation-by-libraries.mjs';
import { makeEyes, orderable } from './calculation-eyes.mjs';
import { libraries } from './calculation-libraries.mjs';

export const need = ['packages'];

const WANTED = { 'ml-matrix': 20, mathjs: 50 };
const FRAME_MS = 16;

/** Runs all of it, says what came out, and returns whether every promise was kept. */
export async function run(say) {
  const kept = compareWithLibraries(say);
  return (await onePlanInAFrame(say)) && kept;
}

function compareWithLibraries(say) {
  const eyes = makeEyes(2000);
  const ours = eyesPerSecond(eyes, ourPlan);
  say(`this package: ${thousands(ours)} eyes per second (ideal lens, and what the nearest lens leaves)`);
  let kept = true;
  for (const [name, library] of Object.entries(libraries)) {
    const apart = largestDifference(eyes, (eye) => planWith(library, eye));
    const theirs = eyesPerSecond(eyes, (eye) => planWith(library, eye));
    // Ours is taken again beside each, because a busy machine slows both alike.
    const ratio = eyesPerSecond(eyes, ourPlan) / theirs;
    const good = ratio >= WANTED[name] && apart <= 1e-9;
    kept &&= good;
    say(
      `${name}: ${thousands(theirs)} eyes per second; ours ${ratio.toFixed(0)} times as many ` +
        `(at least ${WANTED[name]} wanted), answers apart by at most ${apart.toExponential(1)} ${good ? '✓' : '✗'}`,
    );
  }
  return kept;
}

async function onePlanInAFrame(say) {
  const { medianMs, worstMs, firstMs, version } = await timeInBrowser();
  const good = medianMs <= FRAME_MS;
  say(
    `one full plan in Chromium ${version}: ${medianMs.toFixed(2)} ms in the middle (at most ${FRAME_MS} wanted) ` +
      `${good ? '✓' : '✗'}; ${worstMs.toFixed(2)} ms at worst after the first, ` +
      `${firstMs.toFixed(2)} ms for the first of a fresh page, before the browser has compiled anything`,
  );
  return good;
}

function ourPlan(eye) {
  const { ideal, leaves } = prepareEye(eye);
  return { ideal, left: leaves(orderable(ideal)) };
}

/** Best of five turns of at least 300 ms each, after a warm-up: the turn that was disturbed least. */
function eyesPerSecond(eyes, plan) {
  turn(eyes, plan, 200);
  return Math.max(...Array.from({ length: 5 }, () => turn(eyes, plan, 300)));
}

function turn(eyes, plan, atLeastMs) {
  const start = performance.now();
  let done = 0;
  // Adding up a number keeps the compiler from leaving the work out.
  let sum = 0;
  let passed = 0;
  while (passed < atLeastMs) {
    for (let i = 0; i < 100; i += 1) sum += plan(eyes[done++ % eyes.length]).left.sphereD;
    passed = performance.now() - start;
  }
  if (Number.isNaN(sum)) throw new Error('A plan of the bench came out as no number.');
  return (done * 1000) / passed;
}

/** As dioptres of each matrix entry, so that axis and form play no part. */
function largestDifference(eyes, plan) {
  let largest = 0;
  for (const eye of eyes) {
    const theirs = plan(eye);
    const ours = ourPlan(eye);
    for (const key of ['ideal', 'left']) {
      const [a, b] = [entriesOf(ours[key]), entriesOf(theirs[key])];
      a.forEach((value, i) => (largest = Math.max(largest, Math.abs(value - b[i]))));
    }
  }
  return largest;
}

function entriesOf({ sphereD, cylinderD, axisDeg }) {
  const angle = (axisDeg * Math.PI) / 180;
  const [sin, cos] = [Math.sin(angle), Math.cos(angle)];
  return [sphereD + cylinderD * sin * sin, -cylinderD * sin * cos, sphereD + cylinderD * cos * cos];
}

function thousands(value) {
  return Math.round(value).toLocaleString('en-US');
}
