import { parseArgs } from 'node:util';
import { newKey } from '../config.js';
import { allHolds, reportLines } from './report.js';
import { simulate } from './run.js';

/** `--seed N` chooses the chances, `--weeks N` how long; DATABASE_URL names an empty, migrated, throwaway database. */
const { values } = parseArgs({ options: { seed: { type: 'string' }, weeks: { type: 'string' } } });
const whole = (name: 'seed' | 'weeks', otherwise: number, least: number): number => {
  const value = values[name] === undefined ? otherwise : Number(values[name]);
  if (Number.isInteger(value) && value >= least && value <= 1_000_000) return value;
  console.error(`--${name} is a whole number from ${least}.`);
  process.exit(2);
};
const outcome = await simulate({
  databaseUrl: process.env['DATABASE_URL'] ?? '',
  identityKey: newKey(),
  seed: whole('seed', 1, 0),
  weeks: whole('weeks', 52, 1),
  log: (line) => process.stderr.write(`${line}\n`),
});
for (const line of reportLines(outcome)) console.log(line);
if (!allHolds(outcome)) process.exitCode = 1;
