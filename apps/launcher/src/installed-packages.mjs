import { existsSync, readFileSync } from 'node:fs';
import { inRepository } from './repository.mjs';

/**
 * True when node_modules already holds what the lock file asks for, by npm's own record of its last finished
 * install. Saves a second install where somebody ran npm by hand.
 */
export function isInstalledByHand() {
  const record = inRepository('node_modules', '.package-lock.json');
  if (!existsSync(record)) return false;
  const wanted = JSON.parse(readFileSync(inRepository('package-lock.json'), 'utf8')).packages;
  const found = JSON.parse(readFileSync(record, 'utf8')).packages;
  return Object.entries(wanted).every(([path, entry]) => {
    if (!path.includes('node_modules/')) return true;
    if (!found[path]) return entry.optional === true || entry.devOptional === true;
    return entry.link === true || found[path].version === entry.version;
  });
}
