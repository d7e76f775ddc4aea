import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The folder that holds package.json, whatever the current folder is. */
export const repositoryRoot = resolve(fileURLToPath(new URL('.', import.meta.url)), '..', '..', '..');

/** A path inside the repository. */
export function inRepository(...parts) {
  return join(repositoryRoot, ...parts);
}
