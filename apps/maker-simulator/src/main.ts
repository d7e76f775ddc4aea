import { readSettings } from './settings.js';
import { startSimulator } from './start.js';

const say = (line: string) => process.stdout.write(`${line}\n`);

/** One sentence for the faults that a person can mend. */
function explain(error: unknown): string {
  const { code, message } = error as NodeJS.ErrnoException;
  if (code === 'EADDRINUSE') return 'The port in SIMULATOR_PORT is taken; choose another.';
  if (code === 'EACCES' || code === 'EROFS')
    return 'The folder in SIMULATOR_DATA_DIR cannot be written; choose another.';
  return message ?? String(error);
}

try {
  const simulator = await startSimulator(readSettings(process.env), say);
  say(`The maker simulator is ready at ${simulator.url}`);
  let stopping = false;
  for (const signal of ['SIGTERM', 'SIGINT'] as const) {
    process.on(signal, () => {
      if (stopping) return;
      stopping = true;
      void simulator.stop().then(() => process.exit(0));
    });
  }
} catch (error) {
  process.stderr.write(`${explain(error)}\n`);
  process.exitCode = 1;
}
