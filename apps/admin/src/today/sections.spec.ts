import { describe, expect, it } from 'vitest';
import { Today } from '@lensferry/contracts';
import { roles } from '@lensferry/domain';
import { countsOf } from './counts';
import { filledSections, sectionsOf, spokenOf } from './sections';

const nothing = Object.fromEntries(Object.keys(Today.shape).map((key) => [key, key === 'counts' ? {} : []]));

describe('the day of each role', () => {
  it('names only lists that the API answers, each once', () => {
    for (const role of roles) {
      const names = sectionsOf[role];
      expect(new Set(names).size).toBe(names.length);
      for (const name of names) expect(Object.keys(Today.shape)).toContain(name);
    }
  });

  it('gives an administrator every list', () => {
    expect([...sectionsOf.administrator].sort()).toEqual(
      Object.keys(Today.shape)
        .filter((key) => key !== 'counts')
        .sort(),
    );
  });

  it('leaves out what is empty and speaks of what comes first', () => {
    const today = { ...nothing, toSign: [{}], toPlan: [{}, {}] } as unknown as Today;
    expect(filledSections(today, 'surgeon')).toEqual(['toSign', 'toPlan']);
    expect(spokenOf(today, 'surgeon')).toEqual([
      { key: 'today.say.toSign', count: 1 },
      { key: 'today.say.toPlan', count: 2 },
    ]);
  });

  it('is counted in the menu by the rows that the page has for that role', () => {
    const today = { ...nothing, toSign: [{}, {}], toReceive: [{}] } as unknown as Today;
    expect(countsOf(today, 'surgeon')).toMatchObject({ today: 2, arrivals: 1 });
    expect(countsOf(today, 'inventory')).toMatchObject({ today: 1, arrivals: 1 });
    expect(countsOf(today, 'administrator')).toMatchObject({ today: 3, arrivals: 1 });
  });
});
