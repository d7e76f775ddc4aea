import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { BreachedPasswords, isBreachList } from './breached-passwords.js';

const sha1 = (text: string): string => createHash('sha1').update(text).digest('hex').toUpperCase();
const folder = mkdtempSync(join(tmpdir(), 'lensferry-breached-'));
afterAll(() => rmSync(folder, { recursive: true }));

function fileOf(text: string): string {
  const path = join(folder, `${sha1(text)}.txt`);
  writeFileSync(path, text);
  return path;
}

const known = Array.from({ length: 500 }, (_, n) => `harbour ${n}`);
const hashes = known.map(sha1).sort();
const counted = hashes.map((hash, n) => `${hash}:${n ** 3 + 1}`);

describe('a list of breached passwords', () => {
  it.each([
    ['with counts and Windows line ends', counted.join('\r\n')],
    ['with counts, ended by a line end', `${counted.join('\n')}\n`],
    ['of hashes alone', hashes.join('\n')],
  ])('%s is searched, its first and last line too', async (_, text) => {
    const list = new BreachedPasswords(fileOf(text));
    for (const password of known) expect(await list.has(password), password).toBe(true);
    for (const password of known) expect(await list.has(`${password}!`), password).toBe(false);
  });

  it('of one line is searched', async () => {
    const list = new BreachedPasswords(fileOf(sha1('violet')));
    expect([await list.has('violet'), await list.has('indigo'), await list.has('')]).toEqual([
      true,
      false,
      false,
    ]);
  });

  it('knows the example of FIPS 180-4', async () => {
    // NIST, "Examples with Intermediate Values", SHA-1 of "abc".
    const list = new BreachedPasswords(fileOf('A9993E364706816ABA3E25717850C26C9CD0D89D:1'));
    expect(await list.has('abc')).toBe(true);
  });

  it('refuses nothing where there is none', async () => {
    await expect(new BreachedPasswords(undefined).refuse('password')).resolves.toBeUndefined();
  });

  it.each([
    ['words', 'password\n123456\n'],
    ['small letters', `${sha1('a').toLowerCase()}:3\n`],
    ['nothing', ''],
  ])('is told from a file of %s', (_, text) => {
    expect(isBreachList(fileOf(text))).toBe(false);
  });

  it('is told from a folder and from nothing', () => {
    expect([
      isBreachList(folder),
      isBreachList(join(folder, 'none')),
      isBreachList(fileOf(counted.join('\n'))),
    ]).toEqual([false, false, true]);
  });
});
