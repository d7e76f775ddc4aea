import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Problem } from '@lensferry/contracts';
import { lensLifecycle, orderLifecycle, returnLifecycle } from '@lensferry/domain';
import { describe, expect, it } from 'vitest';
import problems from './de/problems';
import { inGerman, sentenceOf } from './de/say-problem';

const house = fileURLToPath(new URL('../../../..', import.meta.url));
const sources = ['apps/api/src', 'packages/domain/src'].flatMap((folder) =>
  readdirSync(join(house, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts') && !name.includes('.spec.') && !name.includes('prisma-client'))
    .map((name) => readFileSync(join(house, folder, name), 'utf8')),
);
const all = (text: string, pattern: RegExp) => [...text.matchAll(pattern)].map((match) => match[1] ?? '');
const source = (part: string) => sources.find((text) => text.includes(part)) ?? '';

/** Codes that are put together: each place that does so says here which they come to. */
const composed: Record<string, string[]> = {
  'implant.${code}': all(source('implant.${code}'), /refuse\(\s*'([a-z-]+)'/g).map(
    (code) => `implant.${code}`,
  ),
  '${lifecycle.name}.step-not-allowed': [orderLifecycle, lensLifecycle, returnLifecycle].map(
    ({ name }) => `${name}.step-not-allowed`,
  ),
  '${lifecycle.name}.step-not-yours': [orderLifecycle, lensLifecycle, returnLifecycle].map(
    ({ name }) => `${name}.step-not-yours`,
  ),
};
const written = sources.flatMap((text) =>
  all(text, /new DomainError\(\s*(?:'[a-z]+'|[\w.]+),\s*['`]([^'`]+)['`]/g),
);
const filter = source('class ProblemFilter');
const codes = [
  ...written.flatMap((code) => (code.includes('${') ? (composed[code] ?? [code]) : [code])),
  ...all(source('type LabelErrorCode'), /\| '(label\.[a-z-]+)'/g),
  ...all(filter, /code: '([a-z.-]+)'/g).filter((code) => !code.startsWith('P')),
  ...all(filter, /\[\s*'([a-z]+\.[a-z-]+)',/g),
];

describe('the refusals of the server in German', () => {
  it('have a sentence for every code', () => {
    expect(new Set(codes).size).toBeGreaterThan(100);
    expect([...new Set(codes)].filter((code) => !(code in problems)).sort()).toEqual([]);
  });

  it('are all of codes that the server has', () => {
    expect(Object.keys(problems).filter((code) => !codes.includes(code) && code !== 'label.value')).toEqual(
      [],
    );
  });

  it('fill in the facts, a state and a field by its German name', () => {
    const moved = sentenceOf({ code: 'order.moved', facts: { state: 'shipped', version: 3 } });
    expect(moved).toMatch(/jetzt: Versandt/i);
    expect(
      sentenceOf({ code: 'plan.measurements-missing', facts: { missing: ['chamber', 'dimensions'] } }),
    ).toContain('Kammertiefe, Maße');
  });

  it('leave the server’s own sentence where a fact is missing or the code is unknown', () => {
    const problem: Problem = { type: 't', title: 'T', status: 409, code: 'case.exists', detail: 'Own.' };
    expect(inGerman(problem).detail).toBe('Own.');
    expect(inGerman({ ...problem, code: 'new.code' }).detail).toBe('Own.');
    expect(inGerman({ ...problem, facts: { code: 'C-1' } }).detail).toContain('C-1');
  });

  it('say at the one wrong field what the problem says', () => {
    const errors = [{ pointer: '/password', message: 'Own.' }];
    const told = inGerman({
      type: 't',
      title: 'T',
      status: 400,
      code: 'person.password',
      detail: 'Own.',
      errors,
    });
    expect(told.errors).toEqual([{ pointer: '/password', message: told.detail }]);
  });
});
