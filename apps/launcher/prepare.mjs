/**
 * Brings a clone to where it can run: packages, generated client, builds. Imports nothing from node_modules,
 * which may not be there yet. `node apps/launcher/prepare.mjs [step …]` does it from the command line.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { setTimeout as pause } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { tryLock, unlock } from './src/file-lock.mjs';
import { hashInputs } from './src/input-hash.mjs';
import { requireRecentNode } from './src/node-version.mjs';
import { prepareSteps } from './src/prepare-steps.mjs';
import { withProgress } from './src/progress.mjs';
import { inRepository, repositoryRoot } from './src/repository.mjs';
import { explainFileError, runMain, StopSentence } from './src/stop-sentence.mjs';

const NOTES = inRepository('node_modules', '.lensferry-prepare.json');
const LOCK = inRepository('.prepare-lock');
/** Made one after the other, because each needs the ones before; the rest only need these. */
const IN_ORDER = ['install', 'packages', 'prisma'];

export const everyStep = prepareSteps.map((step) => step.name);

/**
 * Does those of the needed steps whose inputs changed since they were last done.
 *
 * @param {{ need?: string[], log?: (line: string) => void }} options
 */
export async function prepare({ need = everyStep, log = console.log } = {}) {
  const unknown = need.filter((name) => !everyStep.includes(name));
  if (unknown.length > 0)
    throw new StopSentence(`There is no step ${unknown.join(', ')}: choose from ${everyStep.join(', ')}.`);
  const steps = prepareSteps.filter((step) => need.includes(step.name));
  if (!steps.some(isDue)) return;
  try {
    await waitForLock(log);
  } catch (error) {
    throw explainFileError(error, repositoryRoot);
  }
  try {
    for (const step of steps.filter((step) => IN_ORDER.includes(step.name))) await doIfDue(step, log);
    await settleAll(
      steps.filter((step) => !IN_ORDER.includes(step.name)).map((step) => () => doIfDue(step, log)),
    );
  } finally {
    unlock(LOCK);
  }
}

async function waitForLock(log) {
  let told = false;
  for (let holder = tryLock(LOCK); holder !== null; holder = tryLock(LOCK)) {
    if (!told) log(`Another process (${holder}) is preparing this folder: waiting for it`);
    told = true;
    await pause(250);
  }
}

/** Lets every started step end before the first failure is passed on, so that no build outlives its lock. */
async function settleAll(works) {
  const results = await Promise.allSettled(works.map((work) => work()));
  const failed = results.find((result) => result.status === 'rejected');
  if (failed) throw failed.reason;
}

async function doIfDue(step, log) {
  if (!isDue(step)) return;
  const hash = hashInputs(step.inputs);
  if (!(readNotes()[step.name] === undefined && step.isDoneAlready?.()))
    await withProgress(log, step.doing, step.run);
  writeFileSync(NOTES, `${JSON.stringify({ ...readNotes(), [step.name]: hash }, null, 2)}\n`);
}

function isDue(step) {
  const made = step.outputs.every((path) => existsSync(inRepository(path)));
  return !made || readNotes()[step.name] !== hashInputs(step.inputs);
}

function readNotes() {
  try {
    return JSON.parse(readFileSync(NOTES, 'utf8'));
  } catch {
    return {};
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  requireRecentNode();
  await runMain(() => prepare({ need: process.argv.length > 2 ? process.argv.slice(2) : undefined }));
}
