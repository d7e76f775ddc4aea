import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import german from './de/findings';

const source = readFileSync(
  fileURLToPath(new URL('../../../../packages/domain/src/suitability/rules.ts', import.meta.url)),
  'utf8',
);
const sentences: Record<string, Record<string, string>> = german;

/** What stands in a call, up to the bracket that closes it. */
function callAt(text: string, open: number): string {
  let depth = 0;
  for (let at = open; at < text.length; at += 1) {
    if (text[at] === '(') depth += 1;
    if (text[at] === ')') depth -= 1;
    if (depth === 0) return text.slice(open, at);
  }
  return '';
}

/** Every sentence that a rule of suitability can say: its code and its name within the code. */
const said = source
  .split(/\n {4}code: '/)
  .slice(1)
  .flatMap((rule) => {
    const code = rule.slice(0, rule.indexOf("'"));
    return [...rule.matchAll(/\b(fine|caution|stop)\(/g)].map(({ 0: call, 1: level = '', index }) => {
      const named = /,\s*'([a-z]+)',?\s*$/.exec(callAt(rule, index + call.length - 1));
      return `${code}.${named?.[1] ?? level}`;
    });
  });

it('say every finding of suitability in German', () => {
  expect(said.length).toBeGreaterThan(30);
  expect(
    [...new Set(said)].filter((name) => {
      const [code = '', say = ''] = name.split('.');
      return sentences[code]?.[say] === undefined;
    }),
  ).toEqual([]);
});
