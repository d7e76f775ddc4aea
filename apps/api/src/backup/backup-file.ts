import { createHash } from 'node:crypto';
import { createReadStream, createWriteStream } from 'node:fs';
import { rename, rm } from 'node:fs/promises';
import { createInterface } from 'node:readline';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { createGunzip, createGzip } from 'node:zlib';
import type { Table } from './tables.js';

/** The file is not a whole backup of this product. */
export class BackupRefused extends Error {
  override readonly name = 'BackupRefused';
}

/** The first line: what the file is, and the migrations that its tables stand at. */
export interface Head {
  readonly format: 'lensferry-backup-1';
  readonly madeAt: string;
  readonly migrations: readonly { name: string; checksum: string }[];
}

/** A line after the first: a table begins, one row of it as texts, how a table ended, or the end of the file. */
export type Line =
  | { readonly table: Table }
  | readonly (string | null)[]
  | { readonly rows: number; readonly sha256: string }
  | { readonly end: true; readonly tables: number };

/** A running check over the rows of one table. */
export const tableSum = () => {
  const hash = createHash('sha256');
  let rows = 0;
  return {
    add(row: string): void {
      rows += 1;
      hash.update(row).update('\n');
    },
    end: () => ({ rows, sha256: hash.digest('hex') }),
  };
};

/** Writes lines, compressed, beside the file and renames: what has the file's name is whole. */
export async function writeBackup(file: string, lines: AsyncIterable<string>): Promise<void> {
  const unfinished = `${file}.unfinished`;
  const withBreaks = async function* () {
    for await (const line of lines) yield `${line}\n`;
  };
  try {
    const target = createWriteStream(unfinished, { mode: 0o600, flush: true });
    await pipeline(Readable.from(withBreaks()), createGzip(), target);
    await rename(unfinished, file);
  } finally {
    await rm(unfinished, { force: true });
  }
}

/** The lines of a backup, as they were written. @throws BackupRefused when the file can't be read as one. */
export async function* readBackup(file: string): AsyncGenerator<string> {
  const source = createReadStream(file);
  const unpacked = createGunzip();
  let fault: Error | undefined;
  for (const stream of [source, unpacked])
    stream.once('error', (error: Error) => {
      fault ??= error;
      unpacked.end();
      unpacked.destroy();
    });
  try {
    yield* createInterface({ input: source.pipe(unpacked), crlfDelay: Infinity });
  } catch (error) {
    fault ??= error as Error;
  } finally {
    source.destroy();
  }
  if (fault !== undefined)
    throw new BackupRefused(
      `${file} can't be read to its end (${fault.message}): it is cut off or no backup.`,
    );
}
