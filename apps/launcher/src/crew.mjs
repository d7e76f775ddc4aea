import { spawn } from 'node:child_process';
import { closeSync, openSync, readFileSync, renameSync, statSync, writeFileSync } from 'node:fs';
import { beginningOf, endProcess } from './running-process.mjs';
import { repositoryRoot } from './repository.mjs';
import { isStillThere } from './file-lock.mjs';

const LOG_LIMIT_BYTES = 5_000_000;
const GENTLE = [
  ['SIGTERM', 15_000],
  ['SIGKILL', 5_000],
];

/**
 * The processes that belong together: they are noted in a file as they start, ended last to first, and the
 * first that goes by itself is told through `firstGone`.
 *
 * @param {string} recordFile where the process ids are noted, for a start after a `kill -9`
 */
export function gatherCrew(recordFile) {
  const members = [];
  let tellGone;
  const firstGone = new Promise((done) => (tellGone = done));
  const note = () =>
    writeFileSync(
      recordFile,
      JSON.stringify(members.map(({ name, pid, beginning }) => ({ name, pid, beginning }))),
    );
  const add = (member) => {
    members.push({ ...member, beginning: beginningOf(member.pid) });
    member.ended.then((reason) => tellGone({ name: member.name, reason, logFile: member.logFile }));
    note();
  };
  return {
    firstGone,
    add,
    start: (options) => add(startMember(options)),
    endAll: async () => {
      while (members.length > 0) await members.pop().stop();
      note();
    },
  };
}

/** A Node process that leads its own group and writes to its own log. */
function startMember({ name, script, env, logFile }) {
  const log = openLog(logFile);
  const child = spawn(process.execPath, ['--enable-source-maps', script], {
    cwd: repositoryRoot,
    env,
    detached: true,
    stdio: ['ignore', log, log],
  });
  closeSync(log);
  const ended = new Promise((done) => {
    child.once('error', (error) => done(error.message));
    child.once('exit', (code, signal) => done(signal ? `signal ${signal}` : `code ${code}`));
  });
  const stop = async () => {
    if (child.exitCode === null && child.signalCode === null) await endProcess(child.pid, GENTLE);
    await ended;
  };
  return { name, pid: child.pid, logFile, ended, stop };
}

function openLog(file) {
  if ((statSync(file, { throwIfNoEntry: false })?.size ?? 0) > LOG_LIMIT_BYTES) renameSync(file, `${file}.1`);
  return openSync(file, 'a', 0o600);
}

/** Ends what a killed launcher left running. The database server is left out: it has its own way to be ended. */
export async function endOrphans(recordFile) {
  for (const member of readRecord(recordFile).reverse()) {
    if (member.name !== 'database' && isStillThere(member))
      await endProcess(member.pid, [
        ['SIGTERM', 5_000],
        ['SIGKILL', 5_000],
      ]);
  }
}

function readRecord(file) {
  try {
    return JSON.parse(readFileSync(file, 'utf8'));
  } catch {
    return [];
  }
}
