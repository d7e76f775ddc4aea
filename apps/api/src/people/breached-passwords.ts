import { createHash } from 'node:crypto';
import { closeSync, fstatSync, openSync, readSync } from 'node:fs';
import { open, type FileHandle } from 'node:fs/promises';
import { DomainError } from '@lensferry/domain';

const hashLength = 40;
/** A hash, a colon, a count and the end of a line are shorter than this. */
const longestLine = 64;
const line = /^[0-9A-F]{40}(:\d{1,12})?\r?(\n|$)/;

/** Whether a file begins as a list of breached passwords does; for the settings to be refused at the start. */
export function isBreachList(path: string): boolean {
  try {
    const file = openSync(path, 'r');
    try {
      const head = Buffer.alloc(longestLine);
      const length = readSync(file, head, 0, longestLine, 0);
      return fstatSync(file).isFile() && line.test(head.toString('latin1', 0, length));
    } finally {
      closeSync(file);
    }
  } catch {
    return false;
  }
}

/**
 * Passwords that are known from breaches: a file that the operator keeps, a line for each with the SHA-1 of the
 * password in capital hexadecimal digits and, after a colon, how often it was seen; sorted by the hashes. It is read
 * by bisection, a few dozen lines for each question, so it may be as long as it is; no password leaves the house.
 */
export class BreachedPasswords {
  constructor(private readonly path: string | undefined) {}

  /** Whether the list holds it; never without a list. */
  async has(password: string): Promise<boolean> {
    if (this.path === undefined) return false;
    const wanted = createHash('sha1').update(password).digest('hex').toUpperCase();
    const file = await open(this.path);
    try {
      let low = 0;
      let high = (await file.stat()).size;
      while (low < high) {
        const { from, to, hash } = await lineAround(file, Math.floor((low + high) / 2));
        if (hash === wanted) return true;
        if (hash < wanted) low = to;
        else high = from;
      }
      return false;
    } finally {
      await file.close();
    }
  }

  /** @throws DomainError `person.weak-password` for one that the list holds. */
  async refuse(newPassword: string): Promise<void> {
    if (!(await this.has(newPassword))) return;
    const why = 'This password is known from a breach elsewhere; take another.';
    throw new DomainError('invalid', 'person.weak-password', why, {}, [
      { pointer: '/newPassword', message: why },
    ]);
  }
}

/** The line that a byte lies in: where it begins, where the next one does, and its hash. */
async function lineAround(file: FileHandle, at: number): Promise<{ from: number; to: number; hash: string }> {
  const start = Math.max(0, at - longestLine);
  const { buffer, bytesRead } = await file.read(Buffer.alloc(2 * longestLine), 0, 2 * longestLine, start);
  const text = buffer.toString('latin1', 0, bytesRead);
  const begins = at === start ? 0 : text.lastIndexOf('\n', at - start - 1) + 1;
  const ends = text.indexOf('\n', at - start);
  return {
    from: start + begins,
    to: start + (ends < 0 ? bytesRead : ends + 1),
    hash: text.slice(begins, begins + hashLength),
  };
}
