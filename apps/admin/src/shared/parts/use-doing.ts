import { useSearchParams } from 'react-router-dom';

/**
 * The step that the address opens, `?do=cancel`, and how to put it away. What was opened meanwhile stays open: a step
 * that is done late puts away only itself.
 */
export function useDoing(): [string | null, (name: string | null) => void] {
  const [search, setSearch] = useSearchParams();
  const doing = search.get('do');
  const open = (name: string | null) =>
    setSearch(
      (before) => {
        if (name !== null) before.set('do', name);
        else if (before.get('do') === doing) before.delete('do');
        return before;
      },
      { replace: true },
    );
  return [doing, open];
}
