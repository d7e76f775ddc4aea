import { spawn } from 'node:child_process';
import { repositoryRoot } from './repository.mjs';

/**
 * Runs a program to its end and collects what it prints. The caller judges the exit code.
 *
 * @returns {Promise<{ code: number, output: string }>}
 */
export function runProgram(program, args, { cwd = repositoryRoot, env = process.env } = {}) {
  return new Promise((done, failed) => {
    const child = spawn(program, args, { cwd, env, stdio: ['ignore', 'pipe', 'pipe'] });
    let output = '';
    child.stdout.on('data', (chunk) => (output += chunk));
    child.stderr.on('data', (chunk) => (output += chunk));
    child.once('error', failed);
    child.once('close', (code) => done({ code: code ?? 1, output }));
  });
}
