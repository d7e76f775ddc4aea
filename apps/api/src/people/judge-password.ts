import { createHash } from 'node:crypto';
import { DomainError } from '@lensferry/domain';
import { commonPasswords } from './common-passwords.data.js';

const table = Buffer.from(commonPasswords, 'base64');

/** Whether a word is among the common passwords, small or capital letters alike. */
export function isCommon(word: string): boolean {
  const wanted = createHash('sha256').update(word.toLowerCase()).digest().readUInt32BE();
  let low = 0;
  let high = table.length / 4 - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const found = table.readUInt32BE(middle * 4);
    if (found === wanted) return true;
    if (found < wanted) low = middle + 1;
    else high = middle - 1;
  }
  return false;
}

const rows = [
  'abcdefghijklmnopqrstuvwxyz',
  '01234567890',
  'qwertyuiop',
  'asdfghjkl',
  'zxcvbnm',
  'qwertzuiop',
];
const bare = (text: string): string => text.toLowerCase().replaceAll(/[^\p{L}\p{N}]/gu, '');

function whyWeak(password: string, names: readonly string[]): string | null {
  const small = password.toLowerCase();
  // A common word stays one with digits and signs around it, or said twice.
  const core = small.replaceAll(/^[^\p{L}]+|[^\p{L}]+$/gu, '');
  if (isCommon(small) || (core.length >= 4 && core.length > small.length / 2 && isCommon(core)))
    return 'This is among the passwords that are tried first; take another.';
  const unit = /^(.{1,8}?)\1+$/su.exec(small)?.[1];
  if (unit !== undefined || new Set(small).size < 5)
    return 'This repeats itself; take something longer to guess.';
  const letters = bare(password);
  if (
    rows.some(
      (row) => row.repeat(2).includes(letters) || [...row].reverse().join('').repeat(2).includes(letters),
    )
  )
    return 'This runs along the keyboard or the alphabet; take something else.';
  const own = names
    .flatMap((name) => name.split(/[\s@.]+/))
    .map(bare)
    .filter((part) => part.length >= 4);
  const rest = own.reduce((text, part) => text.replaceAll(part, ''), letters);
  if (letters.length - rest.length >= 4 && rest.length < 8)
    return 'This is little more than a name; take something else.';
  return null;
}

/** Refuses a new password that is short, common, or little more than a name. @throws DomainError `person.weak-password`. */
export function requireStrong(password: string, names: readonly string[]): void {
  const why =
    password.length < 12 ? 'Take at least 12 characters.' : whyWeak(password, [...names, 'lensferry']);
  if (why === null) return;
  throw new DomainError('invalid', 'person.weak-password', why, {}, [
    { pointer: '/newPassword', message: why },
  ]);
}
