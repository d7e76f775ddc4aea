import { describe, expect, it } from 'vitest';
import { base32, fromBase32, hotp, newTotpSecret, stepOfCode } from './totp.js';

const secret = Buffer.from('12345678901234567890');

describe('a one-time password', () => {
  it.each([
    // RFC 6238, appendix B: SHA-1, eight digits.
    [59, '94287082'],
    [1111111109, '07081804'],
  ])('at %i seconds is %s', (seconds, code) => {
    expect(hotp(secret, Math.floor(seconds / 30), 8)).toBe(code);
    expect(hotp(secret, Math.floor(seconds / 30), 6)).toBe(code.slice(2));
  });

  it('is taken one step early or late, and no further', () => {
    const now = new Date(1111111109_000);
    const at = (drift: number): string => hotp(secret, Math.floor(1111111109 / 30) + drift);
    for (const drift of [-1, 0, 1])
      expect(stepOfCode(secret, at(drift), now)).toBe(Math.floor(1111111109 / 30) + drift);
    for (const drift of [-2, 2]) expect(stepOfCode(secret, at(drift), now)).toBeNull();
    expect(stepOfCode(secret, '', now)).toBeNull();
  });

  it('has a secret that base32 carries both ways', () => {
    // RFC 4648, section 10: "foobar".
    expect(base32(Buffer.from('foobar'))).toBe('MZXW6YTBOI');
    const made = newTotpSecret();
    expect(made).toMatch(/^[A-Z2-7]{32}$/);
    expect(base32(fromBase32(made))).toBe(made);
  });
});
