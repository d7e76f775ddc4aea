import { spawn } from 'node:child_process';
import { repositoryRoot } from './repository.mjs';

const running = new Set();

/**
 * Runs a program to its end and collects what it prints. The caller judges the exit code.
 *
 * @returns {Promise<{ code: number, output: string }>}
 */
export function runProgram(
  program,
  args,
  { cwd = repositoryRoot, env = process.env, onOutput = () => {} } = {},
) {
  return new Promise((done, failed) => {
    // What is collected may be shown later, cut to its last lines: colours would be in the way.
    const plain = { ...env, NO_COLOR: '1', FORCE_COLOR: '0' };
    const child = spawn(program, args, { cwd, env: plain, stdio: ['ignore', 'pipe', 'pipe'] });
    running.add(child);
    let output = '';
    const collect = (chunk) => {
      output += chunk;
      onOutput(String(chunk));
    };
    child.stdout.on('data', collect);
    child.stderr.on('data', collect);
    child.once('error', (error) => {
      running.delete(child);
      failed(error);
    });
    child.once('close', (code) => {
      running.delete(child);
      done({ code: code ?? 1, output });
    });
  });
}

/** Asks every program that is still running to end; the promises of their callers settle as usual. */
export function endRunningPrograms() {
  for (const child of running) child.kill('SIGTERM');
}
