import { hash, verify } from '@node-rs/argon2';
import { requireStrong } from './judge-password.js';

/** Argon2id with the parameters that OWASP's password storage cheat sheet gives as its first choice. */
const parameters = { memoryCost: 19_456, timeCost: 2, parallelism: 1 };

export function hashPassword(password: string): Promise<string> {
  return hash(password, parameters);
}

export function isPassword(passwordHash: string, password: string): Promise<boolean> {
  return verify(passwordHash, password);
}

/** Verified against when there is no such account, so that both answers take as long. */
let nobody: Promise<string> | undefined;
export function hashOfNobody(): Promise<string> {
  nobody ??= hashPassword('there is no such account');
  return nobody;
}

/** Judges a new password and hashes it. @throws DomainError `person.weak-password`. */
export function judgeAndHash(password: string, names: readonly string[]): Promise<string> {
  requireStrong(password, names);
  return hashPassword(password);
}
