import { prepare } from '../prepare.mjs';
import { bringUp } from './bring-up.mjs';
import { endOrphans, gatherCrew } from './crew.mjs';
import { openDataFolder } from './data-folder.mjs';
import { sentenceFor } from './last-words.mjs';
import { explainFileError, runMain, StopSentence } from './stop-sentence.mjs';
import { HELP, readStartOptions } from './start-options.mjs';
import { listenForStop } from './stop-request.mjs';

const log = (line) => console.log(line);

/** The whole of `npm start`. Returns when everything has ended; the exit code is set. */
export function runStart(args) {
  return runMain(async () => {
    const options = readStartOptions(args, process.env);
    if (options.help) return log(HELP);
    if (process.platform === 'win32')
      throw new StopSentence('Lensferry does not start on Windows itself: start it in WSL.');
    const stop = listenForStop();
    try {
      await prepare({ need: neededSteps(options), log });
      stop.throwIfRequested();
      await runOnDataFolder(options, stop);
    } catch (error) {
      if (!stop.isRequested()) throw explainFileError(error, options.dataFolder);
    }
    if (stop.isRequested()) log('Lensferry has ended.');
  });
}

function neededSteps({ demo }) {
  return ['install', 'packages', 'prisma', 'api', 'admin', ...(demo ? ['simulator'] : [])];
}

async function runOnDataFolder(options, stop) {
  const data = openDataFolder(options.dataFolder);
  try {
    await endOrphans(data.path('running.json'));
    if (options.fresh) await beginAnew(data);
    data.mark();
    await runCrew({ options, data, stop });
  } finally {
    data.close();
  }
}

async function beginAnew(data) {
  const { endOrphanedServer } = await import('./postgres-orphan.mjs');
  await endOrphanedServer(data.path('postgres'));
  data.empty();
  log(`Removed the earlier data in ${data.folder}`);
}

async function runCrew({ options, data, stop }) {
  // From here on what is written is data and keys, which are nobody else's to read.
  process.umask(0o077);
  const crew = gatherCrew(data.path('running.json'));
  try {
    await bringUp({ options, data, crew, stop, log });
    const gone = await Promise.race([stop.requested.then(() => null), crew.firstGone]);
    if (gone) throw sentenceFor(gone);
    log('Ending …');
  } finally {
    await crew.endAll();
  }
}
