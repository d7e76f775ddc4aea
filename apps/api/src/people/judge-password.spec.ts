import { describe, expect, it } from 'vitest';
import { isCommon, requireStrong } from './judge-password.js';

const names = ['Una Marsh', 'una@lensferry.example'];
const judge = (password: string) => () => requireStrong(password, names);

describe('a new password', () => {
  it.each(['password', 'QWERTY123', '123456', 'iloveyou'])('knows %s for common', (word) => {
    expect(isCommon(word)).toBe(true);
  });

  it.each(['violet harbour sings', 'kV9#pq2!rTz0w', 'Nebelhorn und Kaffee'])('takes "%s"', (password) => {
    expect(isCommon(password)).toBe(false);
    expect(judge(password)).not.toThrow();
  });

  it.each([
    ['short-one-1', 'at least 12'],
    ['Password2026!', 'tried first'],
    ['!!!football!!!', 'tried first'],
    ['1234567890123', 'repeats|runs along|tried first'],
    ['abcabcabcabcabc', 'repeats'],
    ['abcdefghijklmn', 'runs along'],
    ['UnaMarsh-2026', 'name'],
    ['Lensferry2026', 'name'],
  ])('refuses "%s"', (password, why) => {
    expect(judge(password)).toThrow(new RegExp(why));
  });
});
