import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, relative } from 'node:path';
import { repositoryRoot } from './repository.mjs';

const NOT_SOURCES = new Set(['node_modules', 'dist', 'prisma-client', '.vite', 'coverage']);
const NOT_A_SOURCE = /\.(tsbuildinfo|spec\.tsx?)$/;

/**
 * One hash over the content of files and folders of the repository; what a build writes is left out, and so are
 * specs, which no build reads. A path that does not exist counts as empty.
 */
export function hashInputs(paths, extra = []) {
  const hash = createHash('sha256');
  for (const text of [process.version, process.platform, process.arch, ...extra]) hash.update(`${text}\0`);
  for (const path of paths) {
    for (const file of listFiles(join(repositoryRoot, path))) {
      hash.update(`${relative(repositoryRoot, file)}\0`);
      hash.update(readFileSync(file));
    }
  }
  return hash.digest('hex');
}

function listFiles(path) {
  const found = statSync(path, { throwIfNoEntry: false });
  if (!found) return [];
  if (found.isFile()) return [path];
  const entries = readdirSync(path, { withFileTypes: true })
    .filter((entry) => !NOT_SOURCES.has(entry.name) && !NOT_A_SOURCE.test(entry.name))
    .sort((a, b) => (a.name < b.name ? -1 : 1));
  return entries.flatMap((entry) => {
    const child = join(path, entry.name);
    if (entry.isDirectory()) return listFiles(child);
    return entry.isFile() ? [child] : [];
  });
}
