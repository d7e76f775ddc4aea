import { readFileSync } from 'node:fs';
import { gzipSync } from 'node:zlib';
import { expect, it } from 'vitest';

const MOST_BYTES = 250_000;

it('the first page loads at most 250 kB of JavaScript, compressed', () => {
  const page = readFileSync('apps/admin/dist/index.html', 'utf8');
  const scripts = [...page.matchAll(/(?:src|href)="(\/[^"]+\.js)"/g)].map(([, path]) => path!);
  expect(scripts).not.toEqual([]);
  const bytes = scripts.map((path) => gzipSync(readFileSync(`apps/admin/dist${path}`)).length);
  expect(bytes.reduce((a, b) => a + b)).toBeLessThan(MOST_BYTES);
});
