import { chmodSync, existsSync, mkdirSync, readdirSync, rmSync, statfsSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { tryLock, unlock } from './file-lock.mjs';
import { explainFileError, StopSentence } from './stop-sentence.mjs';

const MARK = 'lensferry-data.json';
const LOCK = 'launcher.lock';
/** Everything that starting writes here; `--fresh` removes these and nothing else. */
const MADE_HERE = [
  'postgres',
  'postgres.unfinished',
  'postgres.password',
  'postgres.log',
  'postgres.log.1',
  'settings.json',
  'running.json',
  'demo-loaded.json',
  'demo-accounts.json',
  'simulator-makers.json',
  'simulator',
  'logs',
  MARK,
];
/** A new volume may carry this of its own. */
const NOT_COUNTED = new Set(['lost+found', LOCK]);
const NEEDED_AT_FIRST_MB = 300;
const NEEDED_LATER_MB = 50;

/**
 * Opens the folder that holds the database, keys and logs: makes it when it is new, refuses it when it is
 * somebody else's, and holds it so that no second launcher uses it at the same time.
 *
 * @returns {{ path(name: string): string, isNew: boolean, empty(): void, mark(): void, close(): void }}
 */
export function openDataFolder(folder) {
  try {
    makeFolder(folder);
    refuseForeign(folder);
    const isNew = !existsSync(join(folder, MARK));
    const holder = tryLock(join(folder, LOCK));
    if (holder !== null) {
      throw new StopSentence(
        `Lensferry already runs on ${folder} (process ${holder}): end it, or set DATA_DIR and PORT to run a second one.`,
      );
    }
    return describe(folder, isNew);
  } catch (error) {
    throw explainFileError(error, folder);
  }
}

function describe(folder, isNew) {
  const path = (name) => join(folder, name);
  return {
    folder,
    path,
    isNew,
    empty: () => {
      for (const name of MADE_HERE) rmSync(path(name), { recursive: true, force: true });
    },
    mark: () => {
      requireSpace(folder, existsSync(path('postgres')) ? NEEDED_LATER_MB : NEEDED_AT_FIRST_MB);
      // Root hands the database to another account, which has to pass through; the files inside are closed.
      chmodSync(folder, process.getuid?.() === 0 ? 0o711 : 0o700);
      mkdirSync(path('logs'), { recursive: true, mode: 0o700 });
      if (existsSync(path(MARK))) return;
      writeFileSync(
        path(MARK),
        `${JSON.stringify({ product: 'lensferry', format: 1, madeAt: new Date().toISOString() })}\n`,
      );
    },
    close: () => unlock(path(LOCK)),
  };
}

/** One level after the other: Node's own recursive form never ends below /proc. */
function makeFolder(folder) {
  if (existsSync(folder)) return;
  makeFolder(dirname(folder));
  mkdirSync(folder, { mode: 0o755 });
}

function refuseForeign(folder) {
  const names = readdirSync(folder).filter((name) => !NOT_COUNTED.has(name));
  if (names.length === 0 || names.includes(MARK)) return;
  throw new StopSentence(
    `${folder} holds other files and no Lensferry data: set DATA_DIR to a new or empty folder.`,
  );
}

function requireSpace(folder, neededMb) {
  const { bavail, bsize } = statfsSync(folder);
  const freeMb = Math.floor((bavail * bsize) / 1_000_000);
  if (freeMb >= neededMb) return;
  throw new StopSentence(
    `The disk that holds ${folder} has only ${freeMb} MB free and Lensferry needs ${neededMb} MB: free some space or set DATA_DIR to another disk.`,
  );
}
