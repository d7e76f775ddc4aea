import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const documents = ['docs/threat-model.md', 'docs/asvs.md', 'docs/operations.md'];
const roots = /^(apps|packages|tests|docs|prisma|\.config)\/[\w./-]+\.\w+$/;

describe.each(documents)('%s', (document) => {
  it('names only files that exist', () => {
    const named = [...readFileSync(document, 'utf8').matchAll(/`([^`\n]+)`/g)]
      .map(([, name]) => name!)
      .filter((name) => roots.test(name) && !name.includes('/dist/'));
    expect(named.length).toBeGreaterThan(0);
    expect(named.filter((name) => !existsSync(name))).toEqual([]);
  });
});
