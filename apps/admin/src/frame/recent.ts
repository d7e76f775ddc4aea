import { useEffect } from 'react';
import { useStore } from 'react-admin';
import type { SearchResult } from '@lensferry/contracts';

/** A record that was opened here lately. */
export interface Recent {
  readonly kind: SearchResult['kind'];
  readonly path: string;
  readonly label: string;
}

const KEPT = 6;
const KEY = 'recent';

/** What the person opened last on this machine, the latest first. */
export const useRecent = (): readonly Recent[] => useStore<Recent[]>(KEY, [])[0];

/** The list with another record on top, each once, the oldest dropped. */
export const withRecent = (list: readonly Recent[], one: Recent): Recent[] =>
  [one, ...list.filter(({ path }) => path !== one.path)].slice(0, KEPT);

/** Keeps what is shown among what was opened lately, as soon as it is known what it is called. */
export function useKeepRecent(kind: Recent['kind'], path: string, label: string | undefined): void {
  const [list, setList] = useStore<Recent[]>(KEY, []);
  useEffect(() => {
    if (label === undefined || (list[0]?.path === path && list[0].label === label)) return;
    setList(withRecent(list, { kind, path, label }));
  }, [kind, path, label]);
}
