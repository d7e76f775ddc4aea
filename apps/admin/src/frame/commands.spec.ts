import { describe, expect, it } from 'vitest';
import { commandsFor } from './commands';
import { withRecent, type Recent } from './recent';

const recent = (path: string): Recent => ({ kind: 'case', path, label: path });
const found = (text: string, opened: readonly Recent[]) =>
  commandsFor(
    text,
    [],
    () => true,
    (key) => key,
    (_, value) => value,
    opened,
  ).map(({ path }) => path);

describe('what was opened lately', () => {
  it('is kept once each, the latest first, and only the last few', () => {
    const list = ['/1', '/2', '/3', '/1', '/4', '/5', '/6', '/7'].reduce<Recent[]>(
      (all, path) => withRecent(all, recent(path)),
      [],
    );
    expect(list.map(({ path }) => path)).toEqual(['/7', '/6', '/5', '/4', '/1', '/3']);
  });

  it('stands first while nothing is written, and gives way to what is looked for', () => {
    expect(found('', [recent('/cases/7')]).slice(0, 2)).toEqual(['/cases/7', '/cases/new']);
    expect(found('ledger', [recent('/cases/7')])).toEqual(['/ledger']);
  });
});
