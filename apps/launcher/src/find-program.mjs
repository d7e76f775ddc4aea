import { accessSync, constants, existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { runProgram } from './run-program.mjs';

/** The first of these programs that can be run, as a full path; null when there is none. */
export function findProgram(names) {
  const folders = (process.env.PATH ?? '').split(delimiter).filter(Boolean);
  for (const name of names) {
    const places = name.includes('/') ? [name] : folders.map((folder) => join(folder, name));
    const found = places.find(isExecutable);
    if (found) return found;
  }
  return null;
}

function isExecutable(path) {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** Whether the system's package manager may be used here: root on a system with apt. */
export function canInstallWithApt() {
  return process.getuid?.() === 0 && existsSync('/etc/debian_version') && findProgram(['apt-get']) !== null;
}

/** Installs a Debian package; false when that failed, with what apt said in `output`. */
export async function installWithApt(name) {
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  const update = await runProgram('apt-get', ['update', '-q'], { env });
  const install = await runProgram('apt-get', ['install', '-y', '-q', '--no-install-recommends', name], {
    env,
  });
  return { done: install.code === 0, output: `${update.output}\n${install.output}` };
}
