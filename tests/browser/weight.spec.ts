import { readdirSync, readFileSync } from 'node:fs';
import { gzipSync } from 'node:zlib';
import { expect, it } from 'vitest';

const MOST_BYTES = 250_000;
/** Each file is found, fetched and linked by itself, which on a slow machine costs more than what is in it. */
const MOST_FILES = 15;
const assets = 'apps/admin/dist/assets';

const bytesOf = (files: Iterable<string>): number =>
  [...files].reduce((sum, file) => sum + gzipSync(readFileSync(`${assets}/${file}`)).length, 0);

/** A file with everything that it imports before it runs. */
function withImports(file: string, known = new Set<string>()): Set<string> {
  if (known.has(file)) return known;
  known.add(file);
  const source = readFileSync(`${assets}/${file}`, 'utf8');
  for (const [, imported] of source.matchAll(/(?:from|import)\s*"\.\/([^"]+\.js)"/g))
    withImports(imported!, known);
  return known;
}

it('the first page loads at most 250 kB of JavaScript, compressed', () => {
  const page = readFileSync('apps/admin/dist/index.html', 'utf8');
  const scripts = [...page.matchAll(/(?:src|href)="\/assets\/([^"]+\.js)"/g)].map(([, file]) => file!);
  expect(scripts).not.toEqual([]);
  expect(bytesOf(scripts)).toBeLessThan(MOST_BYTES);
});

it.each(['TodayPage', 'OrderListPage'])(
  '%s comes in few files, and without the contracts of forms',
  (name) => {
    const file = readdirSync(assets).find((one) => one.startsWith(`${name}-`) && one.endsWith('.js'));
    const files = withImports(file!);
    expect(files.size).toBeGreaterThan(2);
    expect(files.size).toBeLessThanOrEqual(MOST_FILES);
    expect(bytesOf(files)).toBeLessThan(MOST_BYTES);
    // Every contract goes through it, and nothing else does.
    const contracts = [...files].filter((one) =>
      readFileSync(`${assets}/${one}`, 'utf8').includes('globalRegistry'),
    );
    expect(contracts).toEqual([]);
  },
);
