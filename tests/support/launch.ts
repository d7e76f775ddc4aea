import { type ChildProcess, spawn, spawnSync } from 'node:child_process';

export type Launch = {
  child: ChildProcess;
  /** What it has printed so far, on both streams. */
  output(): string;
  /** Resolves when the ready line is there; rejects with the output when it ends before. */
  ready: Promise<void>;
  /** The exit code, when it has ended. */
  ended: Promise<number | null>;
};

/** What `npm start` runs, and `npm start` itself. */
export const LAUNCHER = [process.execPath, 'apps/launcher/start.mjs'];
export const NPM_START = ['npm', 'start', '--'];

/** Runs the launcher as a person would, with these settings and no other of ours. */
export function launch(env: Record<string, string>, args: string[] = [], command = LAUNCHER): Launch {
  const clean = Object.fromEntries(
    Object.entries(process.env).filter(
      ([name]) => !/^(DATABASE_URL|REDIS_URL|PORT|DATA_DIR|LENSFERRY_|NODE_ENV|VITEST)/.test(name),
    ),
  );
  const [program = '', ...first] = command;
  const child = spawn(program, [...first, ...args], {
    env: { ...clean, ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let text = '';
  let tellReady: () => void;
  const readyLine = new Promise<void>((done) => (tellReady = done));
  for (const stream of [child.stdout, child.stderr]) {
    stream.on('data', (chunk) => {
      text += String(chunk);
      if (text.includes('Lensferry is ready at')) tellReady();
    });
  }
  const ended = new Promise<number | null>((done) => child.once('close', done));
  const endedEarly = ended.then((code) => Promise.reject(new Error(`It ended with ${code}: ${text}`)));
  const ready = Promise.race([readyLine, endedEarly]);
  ready.catch(() => {});
  endedEarly.catch(() => {});
  return { child, output: () => text, ready, ended };
}

/** The process and everything below it, deepest last. */
export function treeOf(pid: number): number[] {
  const { stdout } = spawnSync('ps', ['-eo', 'pid=,ppid='], { encoding: 'utf8' });
  const pairs = stdout
    .trim()
    .split('\n')
    .map((line) => line.trim().split(/\s+/).map(Number) as [number, number]);
  const below = (parent: number): number[] =>
    pairs.filter(([, ppid]) => ppid === parent).flatMap(([child]) => [child, ...below(child)]);
  return [pid, ...below(pid)];
}
