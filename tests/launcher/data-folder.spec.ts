import { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { spawn } from 'node:child_process';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openDataFolder } from '../../apps/launcher/src/data-folder.mjs';
import { readOrMakeSettings } from '../../apps/launcher/src/settings-file.mjs';

let parent: string;
let folder: string;

beforeEach(() => {
  parent = mkdtempSync(join(tmpdir(), 'lensferry-data-'));
  folder = join(parent, 'deep', 'data');
});

afterEach(() => rmSync(parent, { recursive: true, force: true }));

describe('the data folder', () => {
  it('is made when it is new, and known the next time', () => {
    const first = openDataFolder(folder);
    expect(first.isNew).toBe(true);
    first.mark();
    first.close();
    const second = openDataFolder(folder);
    expect(second.isNew).toBe(false);
    second.close();
  });

  it('is refused when it holds something else', () => {
    mkdirSync(folder, { recursive: true });
    writeFileSync(join(folder, 'thesis.txt'), 'years of work');
    expect(() => openDataFolder(folder)).toThrow(/holds other files and no Lensferry data: set DATA_DIR/);
    expect(readdirSync(folder)).toEqual(['thesis.txt']);
  });

  it('is emptied of what Lensferry made and of nothing else', () => {
    const data = openDataFolder(folder);
    data.mark();
    readOrMakeSettings(data.path('settings.json'));
    writeFileSync(data.path('notes.txt'), 'mine');
    data.empty();
    expect(readdirSync(folder).sort()).toEqual(['launcher.lock', 'notes.txt']);
    data.close();
  });

  it('is held by one launcher at a time', async () => {
    const data = openDataFolder(folder);
    data.mark();
    const script = `import(${JSON.stringify(join(process.cwd(), 'apps/launcher/src/data-folder.mjs'))}).then((m) => m.openDataFolder(process.argv[1])).catch((e) => console.log(e.message))`;
    const output = await new Promise<string>((done) => {
      const child = spawn(process.execPath, ['--eval', script, folder]);
      let text = '';
      child.stdout.on('data', (chunk) => (text += String(chunk)));
      child.on('close', () => done(text));
    });
    expect(output).toMatch(
      new RegExp(`already runs on .* \\(process ${process.pid}\\): end it, or set DATA_DIR and PORT`),
    );
    data.close();
  });

  it('is taken over from a launcher that was killed, though its number is in use again', () => {
    mkdirSync(folder, { recursive: true });
    writeFileSync(join(folder, 'launcher.lock'), JSON.stringify({ pid: process.pid, beginning: 'long ago' }));
    const data = openDataFolder(folder);
    data.close();
    expect(existsSync(join(folder, 'launcher.lock'))).toBe(false);
  });

  it('says what to do when a file is in the way', () => {
    mkdirSync(join(parent, 'deep'));
    writeFileSync(folder, '');
    expect(() => openDataFolder(folder)).toThrow(/is not a folder: remove that file, or set DATA_DIR/);
  });

  it.skipIf(process.platform !== 'linux')('says what to do when it cannot be made', () => {
    expect(() => openDataFolder('/proc/lensferry')).toThrow(/cannot be written: give this user the right/);
  });
});

describe('the settings file', () => {
  it('holds secrets that are made once and that only this user reads', () => {
    mkdirSync(folder, { recursive: true });
    const file = join(folder, 'settings.json');
    const made = readOrMakeSettings(file);
    expect(Buffer.from(made.identityKey, 'base64')).toHaveLength(32);
    expect(statSync(file).mode & 0o777).toBe(0o600);
    expect(readOrMakeSettings(file)).toEqual(made);
  });

  it('is not replaced when it is damaged, for the key in it may be the only one', () => {
    mkdirSync(folder, { recursive: true });
    const file = join(folder, 'settings.json');
    writeFileSync(file, '{ "identityKey": ');
    expect(() => readOrMakeSettings(file)).toThrow(/is damaged: put it back from a backup/);
  });
});
