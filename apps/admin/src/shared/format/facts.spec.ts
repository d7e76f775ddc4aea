import { describe, expect, it } from 'vitest';
import { plainFacts } from './facts';

describe('the facts of an entry', () => {
  it('are told one by one, without what is empty and without hashes', () => {
    expect(
      plainFacts({ number: 'L-1', values: { sphereD: -8, axisDeg: null }, specificationHash: 'ab' }),
    ).toEqual([
      { name: 'number', value: 'L-1' },
      { name: 'sphereD', value: -8 },
    ]);
  });

  it('tell a move from one state to another as one fact', () => {
    expect(plainFacts({ number: 'L-1', before: 'sent', after: 'shipped' })).toEqual([
      { name: 'change', value: 'shipped', before: 'sent' },
      { name: 'number', value: 'L-1' },
    ]);
  });

  it('tell a difference with what was there before', () => {
    expect(plainFacts({ differences: [{ field: 'lengthMm', before: 13, after: 12.5 }] })).toEqual([
      { name: 'lengthMm', value: 12.5, before: 13 },
    ]);
  });

  it('tell what was compared by what came of it', () => {
    const comparison = ['eye: match', 'sphereD: match', 'lot: not-on-label', 'axisDeg: mismatch'];
    expect(plainFacts({ comparison })).toEqual([
      { name: 'comparison', value: 'match', fields: ['eye', 'sphereD'] },
      { name: 'comparison', value: 'not-on-label', fields: ['lot'] },
      { name: 'comparison', value: 'mismatch', fields: ['axisDeg'] },
    ]);
  });
});
