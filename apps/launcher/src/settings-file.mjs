import { randomBytes } from 'node:crypto';
import { existsSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { StopSentence } from './stop-sentence.mjs';

const secret = () => randomBytes(24).toString('base64url');

/** What is made once for this data folder. A new entry here is added to an older file when it is next read. */
const GENERATE = {
  /** Seals identities: without it they cannot be read again, so back it up apart from the database. */
  identityKey: () => randomBytes(32).toString('base64'),
  databaseSuperuserPassword: secret,
  databaseOwnerPassword: secret,
};

/** Reads the secrets of a data folder, generating those that are missing; only this user can read the file. */
export function readOrMakeSettings(file) {
  const known = existsSync(file) ? parse(file) : {};
  const missing = Object.keys(GENERATE).filter((name) => !known[name]);
  if (missing.length === 0) return known;
  const settings = { ...known, ...Object.fromEntries(missing.map((name) => [name, GENERATE[name]()])) };
  saveSettings(file, settings);
  return settings;
}

/** Writes beside and renames, so that a full disk or a kill leaves the old file whole. */
export function saveSettings(file, settings) {
  writeFileSync(`${file}.new`, `${JSON.stringify(settings, null, 2)}\n`, { mode: 0o600 });
  renameSync(`${file}.new`, file);
}

function parse(file) {
  try {
    return JSON.parse(readFileSync(file, 'utf8'));
  } catch (error) {
    throw new StopSentence(
      `${file} is damaged: put it back from a backup, or begin anew with npm start -- --fresh.`,
      { cause: error },
    );
  }
}
