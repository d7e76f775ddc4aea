import { mkdir, open } from 'node:fs/promises';
import type { FileHandle } from 'node:fs/promises';
import { join } from 'node:path';

/** The journal holds something that is no record, not even a torn one at its end. */
export class JournalError extends Error {
  override readonly name = 'JournalError';
}

/**
 * An append-only file of JSON lines. A record counts once its line, with its line end, is on the disk: whoever
 * is killed while writing leaves a torn last line, which was never answered for and is cut off at the next start.
 */
export class Journal<Entry> {
  readonly entries: readonly Entry[];
  private waiting: { line: string; done: () => void; failed: (error: unknown) => void }[] = [];
  private writing: Promise<void> = Promise.resolve();

  private constructor(
    private readonly file: FileHandle,
    private size: number,
    entries: readonly Entry[],
  ) {
    this.entries = entries;
  }

  /** Opens or creates the journal and reads what it holds. */
  static async open<Entry>(folder: string): Promise<Journal<Entry>> {
    await mkdir(folder, { recursive: true });
    const path = join(folder, 'journal.jsonl');
    const file = await open(path, 'a+');
    try {
      const entries = await readEntries<Entry>(file, path);
      return new Journal(file, (await file.stat()).size, entries);
    } catch (error) {
      await file.close();
      throw error;
    }
  }

  /** Resolves when the record is on the disk. Records that arrive together share one write. */
  append(entry: Entry): Promise<void> {
    return new Promise((done, failed) => {
      this.waiting.push({ line: `${JSON.stringify(entry)}\n`, done, failed });
      if (this.waiting.length === 1) this.writing = this.writing.then(() => this.flush());
    });
  }

  private async flush(): Promise<void> {
    const batch = this.waiting;
    this.waiting = [];
    try {
      const bytes = Buffer.from(batch.map(({ line }) => line).join(''));
      await this.file.appendFile(bytes);
      await this.file.datasync();
      this.size += bytes.length;
      for (const { done } of batch) done();
    } catch (error) {
      // A full disk may have taken half a line: nothing may follow it.
      await this.file.truncate(this.size).catch(() => undefined);
      for (const { failed } of batch) failed(error);
    }
  }

  /** Waits for what is being written and closes the file. */
  async close(): Promise<void> {
    await this.writing;
    await this.file.close();
  }
}

async function readEntries<Entry>(file: FileHandle, path: string): Promise<Entry[]> {
  const bytes = await file.readFile();
  const whole = bytes.lastIndexOf(0x0a) + 1;
  if (whole < bytes.length) await file.truncate(whole);
  const lines = bytes.subarray(0, whole).toString('utf8').split('\n').slice(0, -1);
  return lines.map((line, i) => {
    try {
      return JSON.parse(line) as Entry;
    } catch {
      throw new JournalError(`Line ${i + 1} of ${path} is no record; move the file away and start again.`);
    }
  });
}
