/**
 * `npm run --silent plan -- FILE|- [--csv]`: plans for the eyes of a file. Standard output carries the
 * plans and nothing else; progress and problems go to standard error. Exit code 0: every eye computed,
 * 1: some eye could not be, 2: nothing could be read or prepared. Imports nothing from node_modules
 * before it is there.
 */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { prepare } from './prepare.mjs';
import { requireRecentNode } from './src/node-version.mjs';
import { inRepository } from './src/repository.mjs';
import { StopSentence } from './src/stop-sentence.mjs';

const USAGE =
  'Usage: npm run --silent plan -- FILE|- [--csv]   (- reads standard input; --csv reads and writes CSV; fields: docs/schema/plan-input.schema.json)';
const say = (line) => process.stderr.write(`${line}\n`);

// A reader that has seen enough (`| head`) closes the pipe: that is no failure of the plan.
process.stdout.on('error', (error) => {
  if (error.code !== 'EPIPE') throw error;
});

try {
  requireRecentNode();
  const { file, csv, help } = readArguments();
  if (help) {
    say(USAGE);
  } else {
    const text = readText(file);
    await prepare({ need: ['install', 'packages'], log: say });
    const { planFile } = await import(inRepository('packages/calculation/dist/index.js'));
    const { output, problem, exitCode } = planFile(text, { csv });
    if (problem !== undefined) say(problem);
    process.stdout.write(output);
    process.exitCode = exitCode;
  }
} catch (error) {
  say(error instanceof StopSentence ? error.message : (error?.stack ?? error));
  process.exitCode = 2;
}

function readArguments() {
  try {
    const { values, positionals } = parseArgs({
      options: { csv: { type: 'boolean', default: false }, help: { type: 'boolean', short: 'h' } },
      allowPositionals: true,
    });
    if (values.help) return { help: true };
    if (positionals.length !== 1) throw new Error('Give exactly one file, or - for standard input.');
    return { file: positionals[0], csv: values.csv };
  } catch (error) {
    const sentence = error.message.split('. ')[0].replace(/\.$/, '');
    throw new StopSentence(`${sentence}. ${USAGE}`, { cause: error });
  }
}

function readText(file) {
  const name = file === '-' ? 'Standard input' : file;
  try {
    // npm changes to the top folder; a path is meant from where the person stands.
    const path = file === '-' ? 0 : resolve(process.env.INIT_CWD ?? process.cwd(), file);
    return new TextDecoder('utf-8', { fatal: true }).decode(readFileSync(path));
  } catch (error) {
    throw new StopSentence(`${name} cannot be read: ${readProblem(error)}.`, { cause: error });
  }
}

function readProblem(error) {
  if (error.code === 'ENOENT') return 'there is no such file';
  if (error.code === 'EISDIR') return 'it is a folder';
  if (error.code === 'EACCES') return 'this user may not read it';
  if (error.code === 'ERR_ENCODING_INVALID_ENCODED_DATA') return 'it is not UTF-8 text';
  return error.message;
}
