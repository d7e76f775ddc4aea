import { createHmac, randomBytes, timingSafeEqual } from 'node:crypto';

const stepSeconds = 30;
const alphabet = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567';

/** 160 random bits in base32, as authenticators take them. */
export function newTotpSecret(): string {
  return base32(randomBytes(20));
}

/** RFC 4648 base32 without padding. */
export function base32(bytes: Uint8Array): string {
  const bits = [...bytes].map((byte) => byte.toString(2).padStart(8, '0')).join('');
  const groups = bits.match(/.{1,5}/g) ?? [];
  return groups.map((group) => alphabet[parseInt(group.padEnd(5, '0'), 2)]).join('');
}

export function fromBase32(text: string): Buffer {
  const bits = [...text].map((sign) => alphabet.indexOf(sign).toString(2).padStart(5, '0')).join('');
  return Buffer.from((bits.match(/.{8}/g) ?? []).map((byte) => parseInt(byte, 2)));
}

/** The one-time password of a counter: RFC 4226 with SHA-1. */
export function hotp(secret: Buffer, counter: number, digits = 6): string {
  const message = Buffer.alloc(8);
  message.writeBigUInt64BE(BigInt(counter));
  const mac = createHmac('sha1', secret).update(message).digest();
  const offset = (mac.at(-1) ?? 0) & 15;
  const value = mac.readUInt32BE(offset) & 0x7fffffff;
  return String(value % 10 ** digits).padStart(digits, '0');
}

/** The time step of RFC 6238 that an instant lies in. */
export const stepAt = (now: Date): number => Math.floor(now.getTime() / 1000 / stepSeconds);

/** The step whose code this is, one step of clock drift to either side allowed; null for a wrong code. */
export function stepOfCode(secret: Buffer, code: string, now: Date): number | null {
  const given = Buffer.from(code);
  const right = [0, -1, 1].find((drift) => {
    const wanted = Buffer.from(hotp(secret, stepAt(now) + drift));
    return wanted.length === given.length && timingSafeEqual(wanted, given);
  });
  return right === undefined ? null : stepAt(now) + right;
}

/** The address that an authenticator reads off the QR code. */
export function totpAddress(secret: string, email: string): string {
  return `otpauth://totp/Lensferry:${encodeURIComponent(email)}?secret=${secret}&issuer=Lensferry`;
}
