import { existsSync, readFileSync } from 'node:fs';
import { saysDiskFull, StopSentence } from './stop-sentence.mjs';

/** One sentence for a process that went by itself, with its last words before it. */
export function sentenceFor({ name, reason, logFile }) {
  const lines = existsSync(logFile) ? readFileSync(logFile, 'utf8').trim().split('\n').slice(-15) : [];
  if (saysDiskFull(lines.join('\n'))) {
    return new StopSentence(
      'The disk is full, so Lensferry has ended: free some space and start again, nothing is lost.',
    );
  }
  process.stderr.write(`${lines.join('\n')}\n`);
  return new StopSentence(
    `The ${name} ended by itself (${reason}), so the rest was ended too: its last words are above and in ${logFile}; start again with npm start.`,
  );
}
