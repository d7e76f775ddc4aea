import { describe, expect, it } from 'vitest';
import { Batches } from './batches.js';

/** Batches whose runs end when the test says so; `runs` are the items of each, in their order. */
function held() {
  const runs: string[][] = [];
  const ends: (() => void)[] = [];
  const batches = new Batches<string, string>(3, async (key, items) => {
    runs.push([key, ...items]);
    await new Promise<void>((done) => ends.push(done));
    if (items.includes('bad')) throw new Error(`no: ${items.join()}`);
    return items.map((item) => `${item}!`);
  });
  const turn = () => new Promise((done) => setImmediate(done));
  const endAll = async () => {
    while (ends.length > 0) {
      ends.splice(0).forEach((end) => end());
      await turn();
    }
  };
  return { batches, runs, turn, endAll };
}

describe('Batches', () => {
  it('takes what comes at once together, and what comes meanwhile next, never more than it may', async () => {
    const { batches, runs, turn, endAll } = held();
    const first = [batches.add('a', '1'), batches.add('a', '2')];
    await turn();
    const second = ['3', '4', '5', '6'].map((item) => batches.add('a', item));
    expect(runs).toEqual([['a', '1', '2']]);
    await endAll();
    expect(await Promise.all([...first, ...second])).toEqual(['1!', '2!', '3!', '4!', '5!', '6!']);
    expect(runs).toEqual([
      ['a', '1', '2'],
      ['a', '3', '4', '5'],
      ['a', '6'],
    ]);
  });

  it('runs keys beside each other', async () => {
    const { batches, runs, turn, endAll } = held();
    const both = [batches.add('a', '1'), batches.add('b', '2')];
    await turn();
    expect(runs).toEqual([
      ['a', '1'],
      ['b', '2'],
    ]);
    await endAll();
    expect(await Promise.all(both)).toEqual(['1!', '2!']);
  });

  it('lets a bad item fail alone', async () => {
    const { batches, runs, turn, endAll } = held();
    const all = Promise.allSettled(['1', 'bad', '2'].map((item) => batches.add('a', item)));
    await turn();
    await endAll();
    expect((await all).map((one) => (one.status === 'fulfilled' ? one.value : String(one.reason)))).toEqual([
      '1!',
      'Error: no: bad',
      '2!',
    ]);
    expect(runs).toEqual([
      ['a', '1', 'bad', '2'],
      ['a', '1'],
      ['a', 'bad'],
      ['a', '2'],
    ]);
  });
});
