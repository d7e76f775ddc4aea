import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { inRepository, repositoryRoot } from './repository.mjs';

/**
 * Runs vitest on some suites, showing what it prints, and counts what it found.
 *
 * @returns {Promise<{ passed: number, failed: number, skipped: number, ok: boolean }>}
 */
export async function runVitest(suites, { env = process.env, args = [] } = {}) {
  const folder = mkdtempSync(join(tmpdir(), 'lensferry-report-'));
  const report = join(folder, 'report.json');
  const vitest = inRepository('node_modules', 'vitest', 'vitest.mjs');
  const options = [
    'run',
    '--config',
    '.config/vitest.config.ts',
    '--passWithNoTests',
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${report}`,
  ];
  const projects = suites.flatMap((name) => ['--project', name]);
  const code = await runShown(process.execPath, [vitest, ...options, ...projects, ...args], env);
  const counts = readReport(report);
  rmSync(folder, { recursive: true, force: true });
  return { ...counts, failed: code !== 0 && counts.failed === 0 ? 1 : counts.failed, ok: code === 0 };
}

/** A file that could not be loaded holds no tests that failed, but it is a failure. */
function readReport(file) {
  try {
    const report = JSON.parse(readFileSync(file, 'utf8'));
    const unloadable = report.testResults.filter(
      (result) =>
        result.status === 'failed' && !result.assertionResults.some((test) => test.status === 'failed'),
    );
    return {
      passed: report.numPassedTests,
      failed: report.numFailedTests + unloadable.length,
      skipped: report.numPendingTests + report.numTodoTests,
    };
  } catch {
    return { passed: 0, failed: 0, skipped: 0 };
  }
}

function runShown(program, args, env) {
  return new Promise((done, failed) => {
    const child = spawn(program, args, { cwd: repositoryRoot, env, stdio: 'inherit' });
    child.once('error', failed);
    child.once('close', (code) => done(code ?? 1));
  });
}
