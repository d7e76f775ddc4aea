import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { isStillThere } from './file-lock.mjs';
import { startMember } from './member.mjs';
import { beginningOf, endProcess } from './running-process.mjs';
import { StopSentence } from './stop-sentence.mjs';

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
      rmSync(recordFile, { force: true });
    },
  };
}

/** Ends what a killed launcher left running. The database server is left out: it has its own way to be ended. */
export async function endOrphans(recordFile) {
  for (const member of readRecord(recordFile).reverse()) {
    if (member.name === 'database' || !isStillThere(member)) continue;
    const gone = await endProcess(member.pid, [
      ['SIGTERM', 5_000],
      ['SIGKILL', 5_000],
    ]);
    if (!gone)
      throw new StopSentence(
        `The ${member.name} of an earlier run (process ${member.pid}) does not end: end it and start again.`,
      );
  }
}

function readRecord(file) {
  try {
    return JSON.parse(readFileSync(file, 'utf8'));
  } catch {
    return [];
  }
}
